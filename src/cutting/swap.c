/* swap.c - a piece without a place pushes out a smaller one.
 *
 * Problem: near its end ruin and recreate (ruin.c) is left with a piece or two that fit into no gap. All gaps together would often hold
 * them, but a gap grows only when a piece beside it goes.
 *
 * Model: in a slicing tree a leaf may grow by its slack, in each direction for itself. So an absent piece a goes into the place of a leaf b
 * when  length(a) <= length(b) + slack_x(b)  and  width(a) <= width(b) + slack_y(b),  and nothing else moves but what the tree shifts. The gap beside b is
 * used up, and b, which weighs less, is absent in place of a. What is absent gets smaller until it fits somewhere.
 *
 * Invariant: the weight (bulk times weight, the energy's own) of what is absent falls with every swap, so swaps end. Cost: O(nodes of the sheets
 * touched). Heuristic; nothing is proved.
 *
 * An exchange as local searches for packing problems have them; this form, by the slack of a slicing tree, is our own.
 */
#include "swap.h"

#include "without.h"

enum { TICKS_A_LEAF = 1, TICKS_A_SETTLED_TWIG = 3 };

static int64_t weight_of(const struct ruin *ruin, int item)
{
    return ruin->bulk[item] * ruin->weight[item];
}

struct victim {
    int sheet, at;
    int64_t weight;
    bool turned;   /* the piece that comes */
};

static bool takes(const struct twig *leaf, const struct item *item, bool turned)
{
    const int64_t length = turned ? item->width : item->length, width = turned ? item->length : item->width;
    return length <= leaf->length + leaf->slack_x && width <= leaf->width + leaf->slack_y;
}

static void look_in(const struct ruin *ruin, int s, int item, struct victim *best)
{
    const struct item *coming = &ruin->problem->items[item];
    const struct sheet *sheet = &ruin->sheets[s];
    const int64_t most = weight_of(ruin, item);
    for (int i = 0; i < sheet->count; i++) {
        const struct twig *twig = &sheet->twigs[i];
        if (twig->kind != SLICE_ITEM)
            continue;
        const int64_t weight = weight_of(ruin, twig->item);
        for (int turned = 0; turned <= coming->turn && weight < most && weight > best->weight; turned++)
            if (takes(twig, coming, turned != 0))
                *best = (struct victim){.sheet = s, .at = i, .weight = weight, .turned = turned != 0};
    }
}

bool dwi_swap_in(struct ruin *ruin, int item, int64_t *ticks)
{
    struct victim victim = {.weight = -1};
    if (dwi_left_out(ruin->problem, DWI_SWAP))
        return false;
    for (int t = 0; t < ruin->touched_count; t++) {
        look_in(ruin, ruin->touched[t], item, &victim);
        *ticks += (int64_t)ruin->sheets[ruin->touched[t]].count * TICKS_A_LEAF;
    }
    if (victim.weight < 0)
        return false;
    struct sheet *sheet = &ruin->sheets[victim.sheet];
    struct twig *leaf = &sheet->twigs[victim.at];
    ruin->absent[leaf->item]++;
    ruin->absent[item]--;
    leaf->item = item;
    leaf->turned = victim.turned;
    dwi_sheet_settle(sheet);
    *ticks += (int64_t)sheet->count * TICKS_A_SETTLED_TWIG;
    return true;
}
