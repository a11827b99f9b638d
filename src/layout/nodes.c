/* nodes.c - what the files of this room ask of a layout's tree. */
#include "nodes.h"

bool dwi_is_wanted(const struct dw_layout_node *node)
{
    bool wanted = node->use == DW_NODE_PART || node->use == DW_NODE_KEEP;
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count && !wanted; i++)
        wanted = dwi_is_wanted(&node->pieces[i]);
    return wanted;
}

size_t dwi_useful_count(const struct dw_layout_node *node)
{
    size_t count = node->piece_count;
    while (count > 0 && !dwi_is_wanted(&node->pieces[count - 1]))
        count--;
    return count;
}

const struct dw_layout_node *dwi_first_part(const struct dw_layout_node *node)
{
    const struct dw_layout_node *found = node->use == DW_NODE_PART ? node : NULL;
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count && found == NULL; i++)
        found = dwi_first_part(&node->pieces[i]);
    return found;
}

const char *dwi_first_kept(const struct dw_layout_node *node)
{
    const char *found = node->use == DW_NODE_KEEP ? node->mark : NULL;
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count && found == NULL; i++)
        found = dwi_first_kept(&node->pieces[i]);
    return found;
}

struct extent dwi_reach_of(const struct dw_layout_node *node)
{
    struct extent reach = {0, 0};
    if (node->use == DW_NODE_PART)
        reach = (struct extent){node->x + node->length, node->y + node->width};
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count; i++) {
        const struct extent piece = dwi_reach_of(&node->pieces[i]);
        reach = (struct extent){dw_most(reach.x, piece.x), dw_most(reach.y, piece.y)};
    }
    return reach;
}
