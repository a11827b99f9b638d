/* swap.c - a piece without a place pushes out smaller ones.
 *
 * Problem: near its end ruin and recreate (ruin.c) is left with a piece or two that fit into no gap. All gaps together would often hold
 * them, but a gap grows only when a piece beside it goes.
 *
 * Model: in a slicing tree a node may grow by its slack, in each direction for itself. So an absent piece a goes into the place of a sub-tree v,
 * of one piece or of few, when  length(a) <= length(v) + slack_x(v)  and  width(a) <= width(v) + slack_y(v),  and nothing else moves but what the tree
 * shifts. The gap beside v is used up, and its pieces, which together weigh less, are absent in place of a. What is absent gets smaller
 * until it fits somewhere.
 *
 * Invariant: the weight (bulk times weight, the energy's own) of what is absent falls with every swap, so swaps end. Cost: O(nodes of the sheets
 * touched). Heuristic; nothing is proved.
 *
 * An exchange as local searches for packing problems have them; this form, by the slack of a slicing tree, is our own.
 */
#include "swap.h"

#include "without.h"

enum { TICKS_A_TWIG = 1, TICKS_A_SETTLED_TWIG = 3 };

/* The weight of a sub-tree's pieces; `limit` at least where they reach it. */
static int64_t weight_beneath(const struct ruin *ruin, const struct twig *top, int64_t limit)
{
    int64_t weight = 0;
    for (int i = 0; i < top->size && weight < limit; i++)
        if (top[i].kind == SLICE_ITEM)
            weight += ruin->bulk[top[i].item] * ruin->weight[top[i].item];
    return weight;
}

struct victim {
    int sheet, at;
    int64_t weight;
    bool turned;   /* the piece that comes */
};

static bool takes(const struct twig *twig, int64_t length, int64_t width)
{
    return length <= twig->length + twig->slack_x && width <= twig->width + twig->slack_y;
}

static void look_in(const struct ruin *ruin, int s, int item, struct victim *best)
{
    const struct item *coming = &ruin->problem->items[item];
    const struct sheet *sheet = &ruin->sheets[s];
    const int64_t most = ruin->bulk[item] * ruin->weight[item];
    for (int i = 0; i < sheet->count; i++) {
        const struct twig *twig = &sheet->twigs[i];
        const bool straight = takes(twig, coming->length, coming->width);
        if (!straight && !(coming->turn && takes(twig, coming->width, coming->length)))
            continue;
        const int64_t weight = weight_beneath(ruin, twig, most);
        if (weight < most && weight > best->weight)
            *best = (struct victim){.sheet = s, .at = i, .weight = weight, .turned = !straight};
    }
}

bool dwi_swap_in(struct ruin *ruin, int item, int64_t *ticks)
{
    struct victim victim = {.weight = -1};
    if (dwi_left_out(ruin->problem, DWI_SWAP))
        return false;
    for (int t = 0; t < ruin->touched_count; t++) {
        look_in(ruin, ruin->touched[t], item, &victim);
        *ticks += (int64_t)ruin->sheets[ruin->touched[t]].count * TICKS_A_TWIG;
    }
    if (victim.weight < 0)
        return false;
    struct sheet *sheet = &ruin->sheets[victim.sheet];
    dwi_sheet_replace(sheet, victim.at, item, victim.turned, ruin->absent);
    ruin->absent[item]--;
    *ticks += (int64_t)sheet->count * TICKS_A_SETTLED_TWIG;
    return true;
}
