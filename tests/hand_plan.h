/* hand_plan.h - a bench's problem, plans for it cut by hand or found, and what comes of them at the saw. */
#ifndef DRAWERWRIGHT_TESTS_HAND_PLAN_H
#define DRAWERWRIGHT_TESTS_HAND_PLAN_H

#include <drawerwright/layout.h>

#include "layout_bench.h"

/* Birch in sheets of 96 x 48, trimmed so much all round. */
static inline struct dw_sheet_offer *full_birch(struct layout_bench *b, dw_length trim)
{
    lb_new(b);
    lb_material(b, "birch");
    return lb_offer(b, "full", IN(96), IN(48), trim, 6800);
}

/* The sides and ends of so many boxes' worth: 4-1/2 x 16 and 4-1/2 x 12-1/2. */
static inline void sides_and_ends(struct layout_bench *b, size_t sides, size_t ends)
{
    lb_part(b, "side", IN(16), IN(4.5), sides, DW_ALONG);
    lb_part(b, "end", IN(12.5), IN(4.5), ends, DW_ALONG);
}

/* The bench's one problem. */
static inline const struct dw_layout_problem *problem_of(struct layout_bench *b)
{
    const struct dw_layout_problem *problems = NULL;
    size_t count = 0;
    if (dw_layout_problems(b->jobs, 1, &b->options, b->arena, b->faults, &problems, &count) != DW_DONE || count != 1)
        fail_msg("no problem: %s", b->faults->count > 0 ? b->faults->at[0].wrong : "");
    return &problems[0];
}

static inline enum dw_status make(struct layout_bench *b, const struct dw_layout_problem *problem, const struct dw_cut_plan *plan,
                           struct dw_material_layout *layout)
{
    return dw_layout_make(b->jobs, problem, plan, b->arena, b->faults, layout);
}

static inline const struct dw_fault *last_fault(const struct layout_bench *b)
{
    return &b->faults->at[b->faults->count - 1];
}

static inline void make_well(struct layout_bench *b, const struct dw_layout_problem *problem, const struct dw_cut_plan *plan,
                      struct dw_material_layout *layout)
{
    if (make(b, problem, plan, layout) != DW_DONE)
        fail_msg("%s: %s", last_fault(b)->code, last_fault(b)->wrong);
}

/* A node's room, cut into `count` pieces of the sizes given and what is left (if a kerf and more) as the last piece. */
static inline struct dw_cut_node *divide(struct layout_bench *b, struct dw_cut_node *node, enum dw_cut cut, dw_length kerf, const dw_length *sizes,
                                  size_t count)
{
    struct dw_cut_node *pieces = lb_room(b, count + 1, sizeof *pieces);
    const dw_length whole = cut == DW_RIP ? node->width : node->length;
    dw_length at = 0;
    *node = (struct dw_cut_node){node->x, node->y, node->length, node->width, DW_NODE_CUT, cut, pieces, count, 0, false};
    for (size_t i = 0; i <= count; i++) {
        const dw_length size = i < count ? sizes[i] : whole - at;
        if (i == count && size <= 0)
            break;
        pieces[i] = (struct dw_cut_node){.x = node->x, .y = node->y, .length = node->length, .width = node->width, .use = DW_NODE_WASTE};
        *(cut == DW_RIP ? &pieces[i].y : &pieces[i].x) += at;
        *(cut == DW_RIP ? &pieces[i].width : &pieces[i].length) = size;
        node->piece_count = i + 1;
        at += size + kerf;
    }
    return pieces;
}

static inline struct dw_cut_node root_of(const struct dw_layout_problem *problem, size_t sheet)
{
    const struct dw_cut_sheet *s = &problem->request.sheets[sheet];
    return (struct dw_cut_node){.x = s->trim[0], .y = s->trim[2], .length = s->length - s->trim[0] - s->trim[1],
                                .width = s->width - s->trim[2] - s->trim[3], .use = DW_NODE_WASTE};
}

static inline void be_part(struct dw_cut_node *node, size_t part)
{
    node->use = DW_NODE_PART;
    node->part = part;
}

static inline struct dw_cut_plan plan_of(struct dw_cut_layout *layout, dw_money price)
{
    return (struct dw_cut_plan){.outcome = DW_CUT_PLAN, .layouts = layout, .layout_count = 1, .cost = price, .lower_bound = price, .proved = true};
}

/* Strips as wide as the sheet is long, each crosscut into so many of part 0 and then of part 1. */
static inline void cut_strips(struct layout_bench *b, const struct dw_layout_problem *problem, struct dw_cut_node *root, dw_length strip, size_t strips,
                       const size_t (*holds)[2])
{
    const dw_length kerf = problem->request.kerf;
    dw_length widths[16] = {0};
    for (size_t i = 0; i < strips; i++)
        widths[i] = strip;
    struct dw_cut_node *pieces = divide(b, root, DW_RIP, kerf, widths, strips);
    if (root->piece_count > strips)
        pieces[strips].use = DW_NODE_KEEP;
    for (size_t i = 0; i < strips; i++) {
        dw_length lengths[32] = {0};
        size_t count = 0;
        for (size_t part = 0; part < 2; part++)
            for (size_t n = 0; n < holds[i][part]; n++)
                lengths[count++] = problem->request.parts[part].length;
        struct dw_cut_node *parts = divide(b, &pieces[i], DW_CROSSCUT, kerf, lengths, count);
        for (size_t n = 0; n < count; n++)
            be_part(&parts[n], n < holds[i][0] ? 0 : 1);
    }
}

/* What the program finds by itself. */
static inline struct dw_material_layout lay_out(struct layout_bench *b)
{
    const struct dw_layout_problem *problem = problem_of(b);
    const struct dw_cut_plan *plan = NULL;
    assert_int_equal(dw_cut_solve(&problem->request, NULL, b->arena, b->faults, &plan), DW_DONE);
    assert_int_equal(plan->outcome, DW_CUT_PLAN);
    struct dw_material_layout layout;
    make_well(b, problem, plan, &layout);
    return layout;
}

/* A saw more in the shop, a table saw of modest reach. */
static inline struct dw_saw *add_saw(struct layout_bench *b, enum dw_saw_kind kind, const char *name)
{
    struct dw_saw *saw = &b->saws[b->job.shop.saw_count++];
    *saw = (struct dw_saw){.name = name, .kind = kind, .kerf = DW_INCH / 8, .width_least = DW_INCH / 2};
    if (kind == DW_TABLE_SAW) {
        saw->rip_most = IN(30);
        saw->crosscut_most = IN(24);
        saw->edge_least = IN(10);
    }
    return saw;
}

/* The rung of this kind and setting; NULL. */
static inline const struct dw_ladder_rung *rung_at(const struct dw_material_layout *layout, enum dw_ladder_kind kind, dw_length setting)
{
    for (size_t i = 0; i < layout->ladder.rung_count; i++)
        if (layout->ladder.rungs[i].kind == kind && layout->ladder.rungs[i].setting == setting)
            return &layout->ladder.rungs[i];
    return NULL;
}

/* The piece or offcut of this mark; NULL. */
static inline const struct dw_layout_node *find(const struct dw_layout_node *node, const char *mark)
{
    const struct dw_layout_node *found = node->use != DW_NODE_CUT && strcmp(node->mark, mark) == 0 ? node : NULL;
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count && found == NULL; i++)
        found = find(&node->pieces[i], mark);
    return found;
}

/* Strips 4-1/2 wide with so many sides and ends each, by hand, and their ladder. The bench is a full birch with sides_and_ends. */
static inline void rip_boxes(struct layout_bench *b, const size_t (*holds)[2], size_t strips, struct dw_material_layout *made)
{
    const struct dw_layout_problem *problem = problem_of(b);
    struct dw_cut_layout *layout = lb_room(b, 1, sizeof *layout);
    *layout = (struct dw_cut_layout){.times = 1, .root = root_of(problem, 0)};
    cut_strips(b, problem, &layout->root, IN(4.5), strips, holds);
    struct dw_cut_plan *plan = lb_room(b, 1, sizeof *plan);
    *plan = plan_of(layout, 6800);
    assert_true(dw_cut_check(&problem->request, plan, b->faults));
    make_well(b, problem, plan, made);
}

/* Runs a stage with its first, second, ... allocation failing until it comes through. set_up makes a bench and what else the stage is given. */
static inline void sweep_memory(const void *(*set_up)(struct layout_bench *), enum dw_status (*stage)(struct layout_bench *, const void *))
{
    bool done = false;
    size_t n = 1;
    for (; !done && n < 1000; n++) {
        struct layout_bench b;
        const void *given = set_up(&b);
        (void)dw_memory_fail_at(n);
        const enum dw_status status = stage(&b, given);
        (void)dw_memory_fail_at(0);
        done = status == DW_DONE;
        assert_true(done || status == DW_SURROUNDINGS);
        lb_free(&b);
    }
    assert_true(done && n > 2);
}

#endif
