/* random_plan.h - a request and a valid plan for it, cut at random: sheets are divided by through cuts until nobody
 * cares, and what comes out as parts is then what was wanted. All nodes lie in one array that a test may write to. */
#ifndef DW_TESTS_RANDOM_PLAN_H
#define DW_TESTS_RANDOM_PLAN_H

#include <drawerwright/cutting.h>

#include <string.h>

#include "dice.h"

enum { RANDOM_NODES = 400, RANDOM_PARTS = 200, RANDOM_LAYOUTS = 5, RANDOM_SHEETS = 3 };

struct random_plan {
    struct dice dice;
    struct dw_cut_part parts[RANDOM_PARTS];
    struct dw_cut_sheet sheets[RANDOM_SHEETS];
    struct dw_cut_layout layouts[RANDOM_LAYOUTS];
    struct dw_cut_node nodes[RANDOM_NODES];
    size_t node_count;
    struct dw_cut_request request;
    struct dw_cut_plan plan;
};

static inline void random_sheets(struct random_plan *made)
{
    made->request.sheet_count = (size_t)dice_range(&made->dice, 1, RANDOM_SHEETS);
    for (size_t s = 0; s < made->request.sheet_count; s++) {
        struct dw_cut_sheet *sheet = &made->sheets[s];
        *sheet = (struct dw_cut_sheet){.length = dice_range(&made->dice, 30, 300), .width = dice_range(&made->dice, 30, 300)};
        for (int t = 0; t < 4; t++)
            sheet->trim[t] = dice_range(&made->dice, 0, 4);
        sheet->price = dice_range(&made->dice, 0, 5000);
        sheet->value = sheet->price;
        sheet->count = -1;
    }
}

/* The part of this size and freedom, a new one if there is none; its count is raised by the layout's times. */
static inline void random_part(struct random_plan *made, struct dw_cut_node *node, int64_t times)
{
    node->use = DW_NODE_PART;
    node->turned = dice_one_in(&made->dice, 4);
    const struct dw_cut_part wanted = {.length = node->turned ? node->width : node->length,
                                       .width = node->turned ? node->length : node->width,
                                       .turn = node->turned || dice_one_in(&made->dice, 2)};
    size_t p = 0;
    for (; p < made->request.part_count; p++) {
        const struct dw_cut_part *part = &made->parts[p];
        if (part->length == wanted.length && part->width == wanted.width && part->turn == wanted.turn)
            break;
    }
    if (p == made->request.part_count) {
        made->parts[p] = wanted;
        made->request.part_count++;
    }
    made->parts[p].count += times;
    node->part = p;
}

static inline void random_leaf(struct random_plan *made, struct dw_cut_node *node, int64_t times)
{
    const struct dw_cut_keep *keep = &made->request.keep;
    const dw_length least = dw_least(node->length, node->width);
    if (least >= made->request.kerf && made->request.part_count < RANDOM_PARTS && !dice_one_in(&made->dice, 4)) {
        random_part(made, node, times);
        return;
    }
    const bool worth = keep->least_length > 0 && dw_most(node->length, node->width) >= keep->least_length &&
                       least >= keep->least_width;
    node->use = worth && dice_one_in(&made->dice, 2) ? DW_NODE_KEEP : DW_NODE_WASTE;
}

/* Fills sizes[] with what 2 to 4 pieces and the kerfs between them make of `room`; returns how many, 0 when the room is too
 * small. The last piece takes what is left, or up to a kerf less. */
static inline size_t random_split(struct random_plan *made, dw_length room, dw_length *sizes)
{
    const dw_length kerf = made->request.kerf;
    const size_t count = (size_t)dice_range(&made->dice, 2, 4);
    dw_length left = room - kerf * (dw_length)(count - 1) - kerf;
    if (left < (dw_length)count * 4)
        return 0;
    for (size_t i = 0; i + 1 < count; i++) {
        sizes[i] = dice_range(&made->dice, 2, left - 2 * (dw_length)(count - 1 - i));
        left -= sizes[i];
    }
    sizes[count - 1] = left + dice_range(&made->dice, 0, kerf);
    return count;
}

static inline void random_cut(struct random_plan *made, struct dw_cut_node *node, int depth, int64_t times)
{
    dw_length sizes[4] = {0};
    const enum dw_cut cut = dice_one_in(&made->dice, 2) ? DW_RIP : DW_CROSSCUT;
    const size_t count = depth == 0 ? 0 : random_split(made, cut == DW_RIP ? node->width : node->length, sizes);
    if (count == 0 || made->node_count + count > RANDOM_NODES || (depth < 4 && dice_one_in(&made->dice, 5))) {
        random_leaf(made, node, times);
        return;
    }
    struct dw_cut_node *pieces = &made->nodes[made->node_count];
    made->node_count += count;
    node->use = DW_NODE_CUT;
    node->cut = cut;
    node->pieces = pieces;
    node->piece_count = count;
    dw_length at = cut == DW_RIP ? node->y : node->x;
    for (size_t i = 0; i < count; i++) {
        pieces[i] = (struct dw_cut_node){.x = node->x, .y = node->y, .length = node->length, .width = node->width};
        *(cut == DW_RIP ? &pieces[i].y : &pieces[i].x) = at;
        *(cut == DW_RIP ? &pieces[i].width : &pieces[i].length) = sizes[i];
        at += sizes[i] + made->request.kerf;
    }
    for (size_t i = 0; i < count; i++)
        random_cut(made, &pieces[i], depth - 1, times);
}

/* A layout that holds at least one part. */
static inline void random_layout(struct random_plan *made, struct dw_cut_layout *layout)
{
    const size_t sheet = (size_t)dice_range(&made->dice, 0, (int64_t)made->request.sheet_count - 1);
    const struct dw_cut_sheet *from = &made->sheets[sheet];
    *layout = (struct dw_cut_layout){.sheet = sheet, .times = dice_range(&made->dice, 1, 3)};
    const size_t first = made->node_count;
    const struct dw_cut_node root = {.x = from->trim[0],
                                     .y = from->trim[2],
                                     .length = from->length - from->trim[0] - from->trim[1],
                                     .width = from->width - from->trim[2] - from->trim[3]};
    bool holds_part = false;
    while (!holds_part) {
        made->node_count = first;
        layout->root = root;
        random_cut(made, &layout->root, 4, layout->times);
        holds_part = layout->root.use == DW_NODE_PART;
        for (size_t n = first; n < made->node_count; n++)
            holds_part |= made->nodes[n].use == DW_NODE_PART;
    }
    made->plan.cost += layout->times * from->price;
}

/* `made` points into itself and must not be copied. */
static inline void random_plan_make(struct random_plan *made, uint64_t seed)
{
    memset(made, 0, sizeof *made);
    made->dice.state = seed;
    made->request = (struct dw_cut_request){.parts = made->parts, .sheets = made->sheets, .first_cut = -1};
    made->request.kerf = dice_range(&made->dice, 0, 3);
    if (dice_one_in(&made->dice, 2))
        made->request.keep = (struct dw_cut_keep){dice_range(&made->dice, 10, 60), dice_range(&made->dice, 5, 20)};
    random_sheets(made);
    made->plan = (struct dw_cut_plan){.outcome = DW_CUT_PLAN, .layouts = made->layouts};
    made->plan.layout_count = (size_t)dice_range(&made->dice, 1, RANDOM_LAYOUTS);
    for (size_t l = 0; l < made->plan.layout_count; l++)
        random_layout(made, &made->layouts[l]);
    made->plan.proved = made->plan.cost == 0;
}

#endif
