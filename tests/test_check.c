/* test_check.c - the checker of cutting plans: good plans pass, every mutation is caught; and the check of requests.
 * The plans are our own inventions: what makes them right or wrong is arithmetic that can be read beside them. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include <drawerwright/cutting.h>
#include <drawerwright/memory.h>

#include "random_plan.h"

/* A plan by hand. Sheet 100 x 60, trim 1 all round: the root is 98 x 58 at (1, 1), kerf 2.
 * A rip at 30: a strip of 98 x 30, and past the kerf 98 x 26 at y = 33.
 * The strip is crosscut into two parts of 40 x 30 and what is left: 98 - 40 - 2 - 40 - 2 = 14 x 30, kept as an offcut.
 * The rest is crosscut into a part of 50 x 26 and one of 46 x 25, trimmed to its width: 98 - 50 - 2 = 46, 26 - 25 = 1 < kerf. */
struct sample {
    struct dw_cut_part parts[3];
    struct dw_cut_sheet sheets[2];
    struct dw_cut_node strip[3], rest[2], trimmed[1], halves[2];
    struct dw_cut_layout layout;
    int64_t u[3], v[2];
    struct dw_cut_inequality row;
    struct dw_cut_request request;
    struct dw_cut_plan plan;
};

static void sample_layout(struct sample *it)
{
    it->strip[0] = (struct dw_cut_node){.x = 1, .y = 1, .length = 40, .width = 30, .use = DW_NODE_PART, .part = 0};
    it->strip[1] = (struct dw_cut_node){.x = 43, .y = 1, .length = 40, .width = 30, .use = DW_NODE_PART, .part = 0};
    it->strip[2] = (struct dw_cut_node){.x = 85, .y = 1, .length = 14, .width = 30, .use = DW_NODE_KEEP};
    it->trimmed[0] = (struct dw_cut_node){.x = 53, .y = 33, .length = 46, .width = 25, .use = DW_NODE_PART, .part = 2, .turned = true};
    it->rest[0] = (struct dw_cut_node){.x = 1, .y = 33, .length = 50, .width = 26, .use = DW_NODE_PART, .part = 1};
    it->rest[1] = (struct dw_cut_node){.x = 53, .y = 33, .length = 46, .width = 26, .use = DW_NODE_CUT, .cut = DW_RIP,
                                       .pieces = it->trimmed, .piece_count = 1};
    it->halves[0] = (struct dw_cut_node){.x = 1, .y = 1, .length = 98, .width = 30, .use = DW_NODE_CUT, .cut = DW_CROSSCUT,
                                         .pieces = it->strip, .piece_count = 3};
    it->halves[1] = (struct dw_cut_node){.x = 1, .y = 33, .length = 98, .width = 26, .use = DW_NODE_CUT, .cut = DW_CROSSCUT,
                                         .pieces = it->rest, .piece_count = 2};
    it->layout = (struct dw_cut_layout){.sheet = 0, .times = 3};
    it->layout.root = (struct dw_cut_node){.x = 1, .y = 1, .length = 98, .width = 58, .use = DW_NODE_CUT, .cut = DW_RIP,
                                           .pieces = it->halves, .piece_count = 2};
}

/* Three such sheets at 700. The inequality counts 3 for a part 0 and 1 for the others: one sheet 0 yields 8 by the
 * layout above, a sheet 1 of 38 x 150 at most 3 (three parts 2, turned, 25 x 46); all parts are worth 6 x 3 + 3 + 3 = 24. So three
 * sheets 0 are the cheapest (2100), while by area alone two of them and a sheet 1 would do (2090): grown by the
 * kerf, 2 x 100 x 60 + 40 x 152 = 18 080 of at least 6 x 42 x 32 + 3 x 52 x 28 + 3 x 27 x 48 = 16 320. */
static void sample_make(struct sample *it)
{
    memset(it, 0, sizeof *it);
    it->parts[0] = (struct dw_cut_part){.length = 40, .width = 30, .count = 6};
    it->parts[1] = (struct dw_cut_part){.length = 50, .width = 26, .count = 3};
    it->parts[2] = (struct dw_cut_part){.length = 25, .width = 46, .count = 3, .turn = true};
    it->sheets[0] = (struct dw_cut_sheet){.length = 100, .width = 60, .trim = {1, 1, 1, 1}, .price = 700, .value = 700, .count = 3};
    it->sheets[1] = (struct dw_cut_sheet){.length = 38, .width = 150, .price = 690, .value = 690, .count = -1};
    sample_layout(it);
    const int64_t u[3] = {3, 1, 1};
    const int64_t v[2] = {8, 3};
    memcpy(it->u, u, sizeof u);
    memcpy(it->v, v, sizeof v);
    it->row = (struct dw_cut_inequality){.u = it->u, .v = it->v, .rhs = 24};
    it->request = (struct dw_cut_request){.parts = it->parts, .part_count = 3, .sheets = it->sheets, .sheet_count = 2, .kerf = 2,
                                          .turns = 2, .first_cut = DW_RIP, .keep = {30, 14}};
    it->plan = (struct dw_cut_plan){.outcome = DW_CUT_PLAN, .layouts = &it->layout, .layout_count = 1, .cost = 2100,
                                    .lower_bound = 2100, .proved = true, .certificate = &it->row, .certificate_count = 1};
}

static void print_faults(const struct dw_faults *faults)
{
    for (size_t i = 0; i < faults->count; i++)
        print_error("%s at %s: %s; %s\n", faults->at[i].code, faults->at[i].address, faults->at[i].wrong, faults->at[i].cure);
}

static bool passes(const struct dw_cut_request *request, const struct dw_cut_plan *plan)
{
    struct dw_faults *faults = dw_faults_new();
    const bool right = dw_cut_check(request, plan, faults);
    if (right != (faults->errors == 0))
        fail_msg("the answer and the list differ");
    dw_faults_free(faults);
    return right;
}

static void test_sample_passes(void **state)
{
    (void)state;
    struct sample it;
    sample_make(&it);
    struct dw_faults *faults = dw_faults_new();
    if (!dw_cut_check(&it.request, &it.plan, faults)) {
        print_faults(faults);
        fail();
    }
    dw_faults_free(faults);
}

/* One change to the sample and the fault that must be found for it. */
struct change {
    const char *code;
    const char *address;
    void (*make)(struct sample *it);
};

#define CHANGE(name, statement) static void name(struct sample *it) { statement; }
CHANGE(move_part, it->strip[1].x -= 1)
CHANGE(move_first, it->strip[0].x += 1)
CHANGE(move_across, it->strip[0].y += 1)
CHANGE(narrow_kerf, it->rest[1].x -= 1; it->rest[1].length += 1; it->trimmed[0].x -= 1)
CHANGE(beyond_parent, it->strip[2].length = 15)
CHANGE(far_away, it->strip[2].x = INT64_MAX)
CHANGE(no_size, it->strip[2].length = 0)
CHANGE(wide_rest, it->strip[2].length = 11)
CHANGE(idle_cut, it->trimmed[0].width = 26)
CHANGE(resize_part, it->parts[0].width = 29)
CHANGE(turn_against_grain, it->parts[2].turn = false)
CHANGE(unturn, it->trimmed[0].turned = false)
CHANGE(part_unknown, it->strip[0].part = 3)
CHANGE(other_part, it->strip[0].part = 1)
CHANGE(drop_part, it->strip[0].use = DW_NODE_WASTE)
CHANGE(drop_piece, it->halves[0].piece_count = 2)
CHANGE(no_pieces, it->halves[0].piece_count = 0)
CHANGE(no_use, it->strip[0].use = (enum dw_node_use)9)
CHANGE(small_offcut, it->request.keep.least_width = 15)
CHANGE(short_offcut, it->request.keep.least_length = 31)
CHANGE(unasked_offcut, it->request.keep = (struct dw_cut_keep){0})
CHANGE(trim_forgotten, it->sheets[0].trim[1] = 0)
CHANGE(sheet_unknown, it->layout.sheet = 2)
CHANGE(other_sheet, it->layout.sheet = 1)
CHANGE(one_more, it->layout.times = 4)
CHANGE(none_at_all, it->layout.times = -3)
CHANGE(sheet_short, it->sheets[0].count = 2)
CHANGE(cost_under, it->plan.cost = 2099)
CHANGE(price_up, it->sheets[0].price = 701)
CHANGE(bound_over, it->plan.lower_bound = 2101)
CHANGE(bound_negative, it->plan.lower_bound = -1; it->plan.proved = false)
CHANGE(proof_denied, it->plan.proved = false)
CHANGE(proof_claimed, it->plan.lower_bound = 2000)
CHANGE(first_cut, it->request.first_cut = DW_CROSSCUT)
CHANGE(turns, it->strip[0] = it->halves[1]; it->strip[0].cut = DW_RIP)
CHANGE(no_layouts, it->plan.layout_count = 0)
CHANGE(outcome, it->plan.outcome = DW_CUT_NONE_FOUND)
CHANGE(outcome_unknown, it->plan.outcome = (enum dw_cut_outcome)9)
CHANGE(side_wrong, it->row.rhs = 25)
CHANGE(value_negative, it->u[1] = -1; it->row.rhs = 18)
CHANGE(sheet_negative, it->v[1] = -1)
CHANGE(beyond_numbers, it->u[0] = it->v[0] = it->v[1] = it->row.rhs = INT64_MAX) /* says that one sheet is enough */
CHANGE(yield_low, it->v[0] = 7)
CHANGE(value_low, it->v[1] = 2)
CHANGE(yield_high, it->v[1] = 12)
CHANGE(row_missing, it->plan.certificate_count = 0)
CHANGE(rows_absent, it->row.v = NULL)
#undef CHANGE

static const struct change CHANGES[] = {
    {"piece-apart", "layouts[0].root.pieces[0].pieces[1]", move_part},
    {"piece-apart", "layouts[0].root.pieces[0].pieces[0]", move_first},
    {"piece-across", "layouts[0].root.pieces[0].pieces[0]", move_across},
    {"piece-apart", "layouts[0].root.pieces[1].pieces[1]", narrow_kerf},
    {"piece-outside", "layouts[0].root.pieces[0].pieces[2]", beyond_parent},
    {"piece-size", "layouts[0].root.pieces[0].pieces[2]", far_away},
    {"piece-size", "layouts[0].root.pieces[0].pieces[2]", no_size},
    {"rest-wide", "layouts[0].root.pieces[0]", wide_rest},
    {"cut-idle", "layouts[0].root.pieces[1].pieces[1]", idle_cut},
    {"part-size", "layouts[0].root.pieces[0].pieces[0]", resize_part},
    {"part-turned", "layouts[0].root.pieces[1].pieces[1].pieces[0]", turn_against_grain},
    {"part-size", "layouts[0].root.pieces[1].pieces[1].pieces[0]", unturn},
    {"part-unknown", "layouts[0].root.pieces[0].pieces[0]", part_unknown},
    {"part-size", "layouts[0].root.pieces[0].pieces[0]", other_part},
    {"part-count", "parts[0]", drop_part},
    {"rest-wide", "layouts[0].root.pieces[0]", drop_piece},
    {"cut-empty", "layouts[0].root.pieces[0]", no_pieces},
    {"piece-use", "layouts[0].root.pieces[0].pieces[0]", no_use},
    {"offcut-small", "layouts[0].root.pieces[0].pieces[2]", small_offcut},
    {"offcut-small", "layouts[0].root.pieces[0].pieces[2]", short_offcut},
    {"offcut-unasked", "layouts[0].root.pieces[0].pieces[2]", unasked_offcut},
    {"root-size", "layouts[0].root", trim_forgotten},
    {"sheet-unknown", "layouts[0].root", sheet_unknown},
    {"root-size", "layouts[0].root", other_sheet},
    {"part-count", "parts[1]", one_more},
    {"layout-times", "layouts[0].root", none_at_all},
    {"sheet-count", "sheets[0]", sheet_short},
    {"cost", "cost", cost_under},
    {"cost", "cost", price_up},
    {"bound-range", "lower_bound", bound_over},
    {"bound-range", "lower_bound", bound_negative},
    {"proved", "proved", proof_denied},
    {"proved", "proved", proof_claimed},
    {"first-cut", "layouts[0].root", first_cut},
    {"turns-over", "layouts[0].root", turns},
    {"plan-empty", "layouts", no_layouts},
    {"outcome", "outcome", outcome},
    {"outcome", "outcome", outcome_unknown},
    {"row-side", "certificate[0]", side_wrong},
    {"row-negative", "certificate[0]", value_negative},
    {"row-negative", "certificate[0]", sheet_negative},
    {"bound-loose", "lower_bound", beyond_numbers},
    {"row-yield", "certificate[0]", yield_low},
    {"row-value", "certificate[0]", value_low},
    {"bound-loose", "lower_bound", yield_high},
    {"bound-loose", "lower_bound", row_missing},
    {"row-empty", "certificate[0]", rows_absent},
};

static bool found(const struct dw_faults *faults, const char *code, const char *address)
{
    for (size_t i = 0; i < faults->count; i++) {
        if (strcmp(faults->at[i].code, code) == 0 && strcmp(faults->at[i].address, address) == 0)
            return true;
    }
    return false;
}

static void test_sample_changed(void **state)
{
    (void)state;
    for (size_t c = 0; c < sizeof CHANGES / sizeof CHANGES[0]; c++) {
        struct sample it;
        sample_make(&it);
        CHANGES[c].make(&it);
        struct dw_faults *faults = dw_faults_new();
        const bool passed = dw_cut_check(&it.request, &it.plan, faults);
        if (passed || faults->status != DW_PROGRAM || !found(faults, CHANGES[c].code, CHANGES[c].address)) {
            print_faults(faults);
            fail_msg("row %zu: %s at %s was not found", c, CHANGES[c].code, CHANGES[c].address);
        }
        dw_faults_free(faults);
    }
}

/* What the turns rule forgives: a crosscut-only sheet under "rip first", and no limit at all. */
static void test_turns_forgiven(void **state)
{
    (void)state;
    struct sample it;
    sample_make(&it);
    it.request.turns = 0;
    assert_true(passes(&it.request, &it.plan));
    it.request.first_cut = -1;
    assert_true(passes(&it.request, &it.plan));
    it.parts[0].count = 2;
    struct dw_cut_layout layout = {.sheet = 0, .times = 1, .root = it.halves[0]};
    layout.root.x = layout.root.y = 1;
    it.sheets[0] = (struct dw_cut_sheet){.length = 100, .width = 32, .trim = {1, 1, 1, 1}, .price = 700, .count = -1};
    it.request.part_count = 1;
    it.request.sheet_count = 1;
    it.plan = (struct dw_cut_plan){.outcome = DW_CUT_PLAN, .layouts = &layout, .layout_count = 1, .cost = 700};
    it.request.first_cut = DW_RIP;
    it.request.turns = 2;
    assert_true(passes(&it.request, &it.plan));
    it.request.turns = 3;
    assert_true(passes(&it.request, &it.plan));
}

/* A change that spoils any plan it applies to; false where it does not apply. Undone by writing the old node back. */
static bool spoil_node(struct random_plan *made, struct dw_cut_node *node, int kind)
{
    const bool is_part = node->use == DW_NODE_PART;
    const dw_length by = dice_one_in(&made->dice, 2) ? dice_range(&made->dice, 1, 9) : -dice_range(&made->dice, 1, 9);
    switch (kind) {
    case 0: node->x += by; return true;
    case 1: node->y += by; return true;
    case 2: node->length += by; return is_part || llabs(by) > made->request.kerf;
    case 3: node->width += by; return is_part || llabs(by) > made->request.kerf;
    case 4: node->use = DW_NODE_WASTE; return is_part;
    case 5: node->use = DW_NODE_KEEP; return is_part;
    case 6: node->turned = !node->turned; return is_part && !(made->parts[node->part].turn && node->length == node->width);
    case 7: node->part = (node->part + 1) % (made->request.part_count + 1); return is_part;
    case 8: node->piece_count -= 1; return node->use == DW_NODE_CUT;
    case 9: node->cut = node->cut == DW_RIP ? DW_CROSSCUT : DW_RIP; return node->use == DW_NODE_CUT;
    case 10: node->use = DW_NODE_PART; node->part = 0; return node->use != DW_NODE_CUT && !is_part;
    default: return false;
    }
}

static void check_node_mutation(struct random_plan *made, uint64_t seed)
{
    struct dw_cut_node *node = &made->nodes[dice_range(&made->dice, 0, (int64_t)made->node_count - 1)];
    const struct dw_cut_node before = *node;
    const int kind = (int)dice_range(&made->dice, 0, 10);
    if (spoil_node(made, node, kind) && passes(&made->request, &made->plan))
        fail_msg("seed %llu: mutation %d of node %td passed", (unsigned long long)seed, kind, node - made->nodes);
    *node = before;
}

static bool same_place(const struct dw_cut_node *a, const struct dw_cut_node *b)
{
    return a->x == b->x && a->y == b->y && a->length == b->length && a->width == b->width;
}

/* Two nodes change places in the lists of their parents. */
static void check_swap(struct random_plan *made, uint64_t seed)
{
    const size_t a = (size_t)dice_range(&made->dice, 0, (int64_t)made->node_count - 1);
    const size_t b = (size_t)dice_range(&made->dice, 0, (int64_t)made->node_count - 1);
    if (same_place(&made->nodes[a], &made->nodes[b]))
        return; /* of two layouts: perhaps as good as before */
    const struct dw_cut_node before = made->nodes[a];
    made->nodes[a] = made->nodes[b];
    made->nodes[b] = before;
    if (passes(&made->request, &made->plan))
        fail_msg("seed %llu: nodes %zu and %zu swapped and passed", (unsigned long long)seed, a, b);
    made->nodes[b] = made->nodes[a];
    made->nodes[a] = before;
}

/* Changes to the request or the figures of the plan, each on its own. */
static void check_frame_mutations(struct random_plan *made)
{
    made->plan.cost += 1;
    assert_false(passes(&made->request, &made->plan));
    made->plan.cost -= 1;
    made->layouts[0].times += 1;
    assert_false(passes(&made->request, &made->plan));
    made->layouts[0].times -= 1;
    made->sheets[made->layouts[0].sheet].count = 0;
    assert_false(passes(&made->request, &made->plan));
    made->sheets[made->layouts[0].sheet].count = -1;
    made->request.kerf += 1;
    if (made->node_count > 0)
        assert_false(passes(&made->request, &made->plan));
    made->request.kerf -= 1;
    made->parts[0].count += 1;
    assert_false(passes(&made->request, &made->plan));
    made->parts[0].count -= 1;
    made->plan.layout_count -= 1;
    assert_false(passes(&made->request, &made->plan));
    made->plan.layout_count += 1;
}

static void test_random_mutations(void **state)
{
    (void)state;
    struct random_plan *made = malloc(sizeof *made);
    const uint64_t plans = getenv("DW_LONG") != NULL ? 5000 : 400;
    for (uint64_t seed = 1; seed <= plans; seed++) {
        random_plan_make(made, seed);
        if (!passes(&made->request, &made->plan))
            fail_msg("seed %llu: a valid plan was refused", (unsigned long long)seed);
        check_frame_mutations(made);
        for (int m = 0; m < 30 && made->node_count > 0; m++) {
            check_node_mutation(made, seed);
            check_swap(made, seed);
        }
        assert_true(passes(&made->request, &made->plan));
    }
    free(made);
}

/* A chain of cuts deeper than the checker will walk is refused, not followed off the stack. */
static void test_deep_tree(void **state)
{
    (void)state;
    enum { DEPTH = 100000 };
    struct dw_cut_node *chain = calloc(DEPTH, sizeof *chain);
    for (size_t i = 0; i < DEPTH; i++)
        chain[i] = (struct dw_cut_node){.length = DEPTH + 10 - (dw_length)i, .width = 10, .use = DW_NODE_CUT,
                                        .cut = DW_CROSSCUT, .pieces = &chain[i + 1], .piece_count = 1};
    chain[DEPTH - 1].use = DW_NODE_PART;
    const struct dw_cut_part part = {.length = 11, .width = 10, .count = 1};
    const struct dw_cut_sheet sheet = {.length = DEPTH + 10, .width = 10, .count = -1};
    const struct dw_cut_request request = {.parts = &part, .part_count = 1, .sheets = &sheet, .sheet_count = 1, .kerf = 1, .first_cut = -1};
    const struct dw_cut_layout layout = {.times = 1, .root = chain[0]};
    const struct dw_cut_plan plan = {.outcome = DW_CUT_PLAN, .layouts = &layout, .layout_count = 1, .proved = true};
    assert_false(passes(&request, &plan));
    free(chain);
}

/* Whatever allocation fails, a plan is never passed unchecked. */
static void test_check_without_memory(void **state)
{
    (void)state;
    struct sample it;
    sample_make(&it);
    size_t n = 1;
    bool passed = false;
    for (; !passed; n++) {
        struct dw_faults *faults = dw_faults_new();
        dw_memory_fail_at(n);
        passed = dw_cut_check(&it.request, &it.plan, faults);
        dw_memory_fail_at(0);
        assert_int_equal(faults->status, passed ? DW_DONE : DW_SURROUNDINGS);
        dw_faults_free(faults);
    }
    assert_true(n > 3);
}

/* One change to the sample's request, and the fault. */
#define CHANGE(name, statement) static void name(struct sample *it) { statement; }
CHANGE(zero_length, it->parts[1].length = 0)
CHANGE(negative_width, it->parts[1].width = -5)
CHANGE(endless_length, it->parts[1].length = INT64_MAX)
CHANGE(zero_count, it->parts[2].count = 0)
CHANGE(huge_count, it->parts[2].count = 1000001)
CHANGE(many_pieces, it->parts[0].count = it->parts[1].count = 500001)
CHANGE(area_overflow, it->parts[0].length = it->parts[0].width = 3000 * DW_INCH; it->parts[0].count = 7;
       it->sheets[0].length = it->sheets[0].width = 3001 * DW_INCH)
CHANGE(too_long, it->parts[0].length = 99)
CHANGE(too_wide, it->parts[1].length = 60; it->parts[1].width = 61)
CHANGE(would_fit_turned, it->parts[0].length = 30; it->parts[0].width = 61; it->sheets[1].width = 50)
CHANGE(none_in_stock, it->parts[0].length = 30; it->parts[0].width = 60; it->sheets[1].count = 0)
CHANGE(no_stock, it->sheets[0].count = it->sheets[1].count = 0)
CHANGE(wide_kerf, it->request.kerf = 26)
CHANGE(negative_kerf, it->request.kerf = -1)
CHANGE(trim_over, it->sheets[0].trim[2] = 59)
CHANGE(negative_trim, it->sheets[0].trim[3] = -1)
CHANGE(no_width, it->sheets[1].width = 0)
CHANGE(sheet_count, it->sheets[1].count = -2)
CHANGE(negative_price, it->sheets[1].price = -1)
CHANGE(no_parts, it->request.part_count = 0)
CHANGE(no_sheets, it->request.sheet_count = 0)
CHANGE(four_turns, it->request.turns = 4)
CHANGE(third_cut, it->request.first_cut = 2)
CHANGE(negative_work, it->request.work = -1)
CHANGE(negative_keep, it->request.keep.least_width = -1)
#undef CHANGE

struct request_row {
    const char *code;
    const char *address;
    enum dw_status status;
    void (*make)(struct sample *it);
    const char *cure; /* words that the advice must hold */
};

static const struct request_row REQUESTS[] = {
    {"length-under", "parts[1].length", DW_INPUT, zero_length, "more than nothing"},
    {"length-under", "parts[1].width", DW_INPUT, negative_width, "more than nothing"},
    {"length-over", "parts[1].length", DW_INPUT, endless_length, "at most"},
    {"count-range", "parts[2].count", DW_INPUT, zero_count, "1 to 1000000"},
    {"count-range", "parts[2].count", DW_INPUT, huge_count, "1 to 1000000"},
    {"pieces-over", "parts", DW_INPUT, many_pieces, "at most 1000000"},
    {"area-over", "parts", DW_INPUT, area_overflow, "split"},
    {"part-too-large", "parts[0]", DW_IMPOSSIBLE, too_long, "fit sheets[1] if it could be turned"},
    {"part-too-large", "parts[1]", DW_IMPOSSIBLE, too_wide, "comes out of sheets[0]"},
    {"part-too-large", "parts[0]", DW_IMPOSSIBLE, would_fit_turned, "fit sheets[0] if it could be turned"},
    {"part-too-large", "parts[0]", DW_IMPOSSIBLE, none_in_stock, "sheets[1] would do"},
    {"no-sheets", "parts[2]", DW_IMPOSSIBLE, no_stock, "offer a sheet"},
    {"kerf-wide", "parts[2].length", DW_INPUT, wide_kerf, "units"},
    {"length-under", "kerf", DW_INPUT, negative_kerf, "not be negative"},
    {"trim-over", "sheets[0].trim", DW_INPUT, trim_over, "trim less"},
    {"length-under", "sheets[0].trim[3]", DW_INPUT, negative_trim, "not be negative"},
    {"length-under", "sheets[1].width", DW_INPUT, no_width, "more than nothing"},
    {"count-range", "sheets[1].count", DW_INPUT, sheet_count, "-1 means without limit"},
    {"amount-range", "sheets[1].price", DW_INPUT, negative_price, "from 0"},
    {"no-parts", "parts", DW_INPUT, no_parts, "at least one"},
    {"no-sheets", "sheets", DW_IMPOSSIBLE, no_sheets, "at least one"},
    {"choice", "turns", DW_INPUT, four_turns, "0, 2 or 3"},
    {"choice", "first_cut", DW_INPUT, third_cut, "0 for a rip"},
    {"choice", "work", DW_INPUT, negative_work, "0 or more"},
    {"length-under", "keep.least_width", DW_INPUT, negative_keep, "not be negative"},
};

static bool advises(const struct dw_faults *faults, const struct request_row *row)
{
    for (size_t i = 0; i < faults->count; i++) {
        const struct dw_fault *fault = &faults->at[i];
        if (strcmp(fault->code, row->code) == 0 && strcmp(fault->address, row->address) == 0 &&
            fault->status == row->status && strstr(fault->cure, row->cure) != NULL)
            return true;
    }
    return false;
}

static void test_request_faults(void **state)
{
    (void)state;
    for (size_t r = 0; r < sizeof REQUESTS / sizeof REQUESTS[0]; r++) {
        struct sample it;
        sample_make(&it);
        REQUESTS[r].make(&it);
        struct dw_faults *faults = dw_faults_new();
        const bool sound = dw_cut_check_request(&it.request, faults);
        if (sound || !advises(faults, &REQUESTS[r])) {
            print_faults(faults);
            fail_msg("row %zu: %s at %s", r, REQUESTS[r].code, REQUESTS[r].address);
        }
        dw_faults_free(faults);
    }
}

/* The figure in the words: 10 mm too long, both ways of writing it. */
static void test_part_too_large_figure(void **state)
{
    (void)state;
    const struct dw_cut_part part = {.length = 2449 * DW_MM, .width = 1220 * DW_MM, .count = 1};
    const struct dw_cut_sheet sheet = {.length = 2440 * DW_MM, .width = 1220 * DW_MM, .trim = {DW_MM, 0, 0, 0}, .count = -1};
    const struct dw_cut_request request = {.parts = &part, .part_count = 1, .sheets = &sheet, .sheet_count = 1, .first_cut = -1};
    struct dw_faults *faults = dw_faults_new();
    assert_false(dw_cut_check_request(&request, faults));
    assert_int_equal(faults->count, 1);
    assert_non_null(strstr(faults->at[0].wrong, "10 mm (~25/64 in) too long for the nearest, sheets[0]"));
    dw_faults_free(faults);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_sample_passes),        cmocka_unit_test(test_sample_changed),
        cmocka_unit_test(test_turns_forgiven),       cmocka_unit_test(test_random_mutations),
        cmocka_unit_test(test_deep_tree),            cmocka_unit_test(test_check_without_memory),
        cmocka_unit_test(test_request_faults),       cmocka_unit_test(test_part_too_large_figure),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
