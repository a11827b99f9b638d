/* settle.c - the sheets as the ladder's cuts leave them.
 *
 * A layout counts on one kerf. A saw that takes less leaves every following piece nearer, and more of what is left over. Once it is known which
 * saw makes which cut, the pieces are moved to where they will really lie: drawing, plan file, rack and ladder then name one and the same offcut.
 */
#include "ladder.h"

#include <string.h>

/* This room made the pieces, so it may move them. */
static struct dw_layout_node *own(const struct dw_layout_node *node)
{
    struct dw_layout_node *mine = NULL;
    memcpy(&mine, &node, sizeof mine);
    return mine;
}

/* Moves a node to its place, and its pieces with it. The last piece takes what is left when it need not have a size. */
static void move_to(struct dw_layout_node *node, dw_length x, dw_length y, dw_length length, dw_length width, dw_area *kept)
{
    node->x = x;
    node->y = y;
    node->length = length;
    node->width = width;
    *kept += node->use == DW_NODE_KEEP ? length * width : 0;
    struct dw_layout_node *pieces = own(node->pieces);
    const bool rip = node->cut == DW_RIP;
    dw_length left = rip ? width : length;
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count; i++) {
        const bool leftover = i + 1 == node->piece_count && (pieces[i].use == DW_NODE_KEEP || pieces[i].use == DW_NODE_WASTE);
        const dw_length size = leftover ? left : rip ? pieces[i].width : pieces[i].length;
        move_to(&pieces[i], x, y, rip ? length : size, rip ? size : width, kept);
        left -= size + pieces[i].after;
        x += rip ? 0 : size + pieces[i].after;
        y += rip ? size + pieces[i].after : 0;
    }
}

void dwi_settle(const struct saws *saws, const struct schedule *schedule, struct dw_material_layout *layout)
{
    for (size_t r = 0; r < schedule->rung_count; r++)
        for (size_t c = 0; c < schedule->rungs[r].cut_count; c++) {
            const struct dw_ladder_cut *cut = &schedule->rungs[r].cuts[c];
            const struct dw_layout_node *node = cut->off == DW_NO_INDEX ? NULL : schedule->panels[cut->off].node;
            const bool rough = schedule->rungs[r].kind == DW_LADDER_YARD || schedule->rungs[r].kind == DW_LADDER_ROUGH;
            if (node != NULL && node->after > 0 && !rough)
                own(node)->after = saws->at[schedule->rungs[r].way.saw].kerf;
        }
    layout->kept_area = 0;
    for (size_t s = 0; s < layout->sheet_count; s++) {
        struct dw_layout_node *root = &layout->sheets[s].root;
        move_to(root, root->x, root->y, root->length, root->width, &layout->kept_area);
    }
}
