/* test_ladder.c - the cut ladder: bench checks, saws and their limits, matched fronts, random layouts under random saws (whatever comes out
 * has passed the replay), and the replay itself against spoiled ladders. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <time.h>

#include <drawerwright/layout.h>

#include "dice.h"
#include "hand_plan.h"
#include "layout/pieces.h"
#include "random_bench.h"

/* ---- the bench ---- */

/* Common practice, no source; by hand. Eight boxes: 16 sides 4-1/2 x 16 and 16 ends 4-1/2 x 12-1/2 on a 48 x 96 sheet trimmed 1/4: five
 * strips, three of 5 + 1, one of 1 + 6, one of 0 + 7; three settings besides trims: 4-1/2, 16, 12-1/2; 24-3/8 left. */
static void test_eight_boxes(void **state)
{
    (void)state;
    struct layout_bench b;
    full_birch(&b, IN(0.25));
    sides_and_ends(&b, 16, 16);
    b.options.first_cut = 1; /* rips first: else four columns come out, with as many settings and a larger offcut */
    static const size_t holds[][2] = {{5, 1}, {5, 1}, {5, 1}, {1, 6}, {0, 7}};
    struct dw_material_layout made;
    rip_boxes(&b, holds, 5, &made);
    assert_int_equal(made.ladder.settings, 3);
    assert_int_equal(made.ladder.rung_count, 4);
    assert_int_equal(made.ladder.rungs[0].kind, DW_LADDER_TRIM);
    assert_int_equal(made.ladder.rungs[0].cut_count, 4);
    const struct dw_ladder_rung *rip = rung_at(&made, DW_LADDER_RIP, IN(4.5));
    const struct dw_ladder_rung *sides = rung_at(&made, DW_LADDER_CROSSCUT, IN(16)), *ends = rung_at(&made, DW_LADDER_CROSSCUT, IN(12.5));
    assert_non_null(rip);
    assert_int_equal(rip->cut_count, 5);
    assert_int_equal(rip->guide, DW_GUIDE_FENCE);
    assert_non_null(sides);
    assert_int_equal(sides->cut_count, 16);
    assert_int_equal(sides->guide, DW_GUIDE_STOP); /* 4-1/2 on the fence at 16 is forbidden */
    assert_non_null(ends);
    assert_int_equal(ends->cut_count, 16);
    const struct dw_layout_node *left = &made.sheets[0].root.pieces[5];
    assert_int_equal(left->use, DW_NODE_KEEP);
    assert_int_equal(left->width, IN(24.375));
    assert_string_equal(left->mark, "S1-off1");
    lb_free(&b);
}

/* The same parts, found from the beginning: three settings whichever cut comes first, and with rips first the same 24-3/8. */
static void test_eight_boxes_found(void **state)
{
    (void)state;
    for (int first_cut = 0; first_cut <= 2; first_cut++) {
        struct layout_bench b;
        full_birch(&b, IN(0.25));
        sides_and_ends(&b, 16, 16);
        b.options.first_cut = first_cut;
        const struct dw_layout_problem *problem = problem_of(&b);
        const struct dw_cut_plan *plan = NULL;
        assert_int_equal(dw_cut_solve(&problem->request, NULL, b.arena, b.faults, &plan), DW_DONE);
        struct dw_material_layout made;
        make_well(&b, problem, plan, &made);
        assert_int_equal(made.sheet_count, 1);
        assert_int_equal(made.ladder.settings, 3);
        if (first_cut == 1)
            assert_int_equal(made.sheets[0].root.pieces[made.sheets[0].root.piece_count - 1].width, IN(24.375));
        lb_free(&b);
    }
}

/* One panel of 36 x 60 to be ripped off a 48 x 96 sheet without trim. */
static void wide_panel(struct layout_bench *b)
{
    lb_new(b);
    lb_material(b, "birch");
    lb_offer(b, "full", IN(96), IN(48), 0, 6800);
    lb_part(b, "panel", IN(96), IN(36), 1, DW_ALONG);
}

static enum dw_status rip_wide(struct layout_bench *b, struct dw_material_layout *made)
{
    const struct dw_layout_problem *problem = problem_of(b);
    struct dw_cut_layout *layout = lb_room(b, 1, sizeof *layout);
    *layout = (struct dw_cut_layout){.times = 1, .root = root_of(problem, 0)};
    be_part(&divide(b, &layout->root, DW_RIP, problem->request.kerf, (const dw_length[]){IN(36)}, 1)[0], 0);
    const struct dw_cut_plan plan = plan_of(layout, 6800);
    return make(b, problem, &plan, made);
}

/* Common practice, no source; by hand. Rip capacity 30, a panel 36 wide: the fence stands at 11-7/8 (48 less 36 less a kerf) and the outside
 * piece is kept, with a warning that 36 now depends on the sheet's true width. With a track saw: the track at 36. */
static void test_wide_panel_on_a_small_saw(void **state)
{
    (void)state;
    struct layout_bench b;
    wide_panel(&b);
    add_saw(&b, DW_TABLE_SAW, "table saw");
    struct dw_material_layout made;
    assert_int_equal(rip_wide(&b, &made), DW_DONE);
    assert_int_equal(made.ladder.rung_count, 1);
    assert_int_equal(made.ladder.rungs[0].setting, IN(11.875));
    assert_int_equal(made.ladder.rungs[0].guide, DW_GUIDE_OUTSIDE);
    assert_non_null(strstr(made.ladder.rungs[0].caution, "true width"));
    lb_free(&b);
    wide_panel(&b);
    add_saw(&b, DW_TABLE_SAW, "table saw");
    add_saw(&b, DW_TRACK_SAW, "track saw");
    assert_int_equal(rip_wide(&b, &made), DW_DONE);
    assert_int_equal(made.ladder.rungs[0].guide, DW_GUIDE_TRACK);
    assert_int_equal(made.ladder.rungs[0].setting, IN(36));
    assert_int_equal(made.ladder.rungs[0].saw, 1);
    lb_free(&b);
}

/* A saw that reaches neither 36 nor 11-7/8: a fault that names the piece. */
static void test_no_saw_names_the_piece(void **state)
{
    (void)state;
    struct layout_bench b;
    wide_panel(&b);
    add_saw(&b, DW_TABLE_SAW, "table saw")->rip_most = IN(10);
    struct dw_material_layout made;
    assert_int_equal(rip_wide(&b, &made), DW_IMPOSSIBLE);
    assert_int_equal(b.faults->errors, 1);
    assert_string_equal(last_fault(&b)->code, "no-saw");
    assert_non_null(strstr(last_fault(&b)->wrong, "panel P1-1"));
    lb_free(&b);
}

struct freeing {
    struct layout_bench *b;
    const struct dw_cut_plan *plan;
    struct ladder_count count;
    struct dw_material_layout layout;
};

static void free_body(void *context)
{
    struct freeing *freeing = context;
    struct given_up given_up = {.count = 0};
    freeing->count = dwi_layout_try(freeing->b->jobs, freeing->plan, &given_up, freeing->b->arena, &freeing->layout);
}

/* By hand: a panel 10 wide off a sheet of 48, then an offcut 20 wide to keep and waste past it. A rip capacity of 12 reaches neither the 20
 * nor the 17-3/4 beside it: what no saw can free is waste, and the panel is had all the same. With a capacity of 30 the offcut stays. */
static void test_offcut_that_no_saw_can_free(void **state)
{
    (void)state;
    for (int reach = 12; reach <= 30; reach += 18) {
        struct layout_bench b;
        full_birch(&b, 0);
        lb_part(&b, "panel", IN(96), IN(10), 1, DW_ALONG);
        add_saw(&b, DW_TABLE_SAW, "table saw")->rip_most = IN(reach);
        const struct dw_layout_problem *problem = problem_of(&b);
        struct dw_cut_layout layout = {.times = 1, .root = root_of(problem, 0)};
        struct dw_cut_node *pieces = divide(&b, &layout.root, DW_RIP, problem->request.kerf, (const dw_length[]){IN(10), IN(20)}, 2);
        be_part(&pieces[0], 0);
        pieces[1].use = DW_NODE_KEEP;
        const struct dw_cut_plan plan = plan_of(&layout, 6800);
        struct freeing freeing = {.b = &b, .plan = &plan, .layout = {.problem = problem}};
        assert_true(dw_arena_guard(b.arena, free_body, &freeing));
        assert_true(freeing.count.whole);
        assert_int_equal(freeing.count.settings, reach == 12 ? 1 : 2);
        assert_int_equal(freeing.layout.sheets[0].root.pieces[1].use, reach == 12 ? DW_NODE_WASTE : DW_NODE_KEEP);
        assert_int_equal(freeing.layout.kept_area, reach == 12 ? 0 : IN(20) * IN(96));
        lb_free(&b);
    }
}

/* Five strips crosscut into sides and ends: each rung says panel by panel what is taken, what comes off, what is left. */
static void test_steps_are_said(void **state)
{
    (void)state;
    struct layout_bench b;
    full_birch(&b, IN(0.25));
    lb_part(&b, "rail", IN(16), IN(4.5), 10, DW_ALONG);
    lb_part(&b, "end", IN(12.5), IN(4.5), 2, DW_ALONG);
    static const size_t holds[][2] = {{5, 1}, {5, 1}};
    struct dw_material_layout made;
    rip_boxes(&b, holds, 2, &made);
    const struct dw_ladder_rung *rip = rung_at(&made, DW_LADDER_RIP, IN(4.5)), *sides = rung_at(&made, DW_LADDER_CROSSCUT, IN(16));
    assert_non_null(rip);
    assert_int_equal(rip->step_count, 1);
    assert_string_equal(rip->steps[0].from, "S1");
    assert_string_equal(rip->steps[0].off, "S1-a S1-b");
    assert_non_null(strstr(rip->steps[0].left, "S1-off1 to keep"));
    assert_string_equal(rip->edge, "trimmed edge against the fence");
    assert_non_null(sides);
    assert_int_equal(sides->step_count, 2);
    assert_string_equal(sides->steps[1].from, "S1-b");
    assert_int_equal(sides->steps[1].cuts, 5);
    assert_string_equal(sides->steps[1].off, "R1-6 R1-7 R1-8 R1-9 R1-10");
    assert_string_equal(sides->steps[1].left, "S1-b"); /* its end is cut at another setting */
    assert_string_equal(sides->edge, "clean end against the stop");
    lb_free(&b);
}

/* A blade wider than the kerf that was laid out for cannot give the parts. */
static void test_wide_kerf_is_refused(void **state)
{
    (void)state;
    struct layout_bench b;
    wide_panel(&b);
    add_saw(&b, DW_TRACK_SAW, "wide blade")->kerf = DW_INCH / 4;
    struct dw_material_layout made;
    assert_int_equal(rip_wide(&b, &made), DW_IMPOSSIBLE);
    assert_string_equal(last_fault(&b)->code, "kerf-over");
    lb_free(&b);
}

/* A sheet of 47-7/8 x 48: after its first trim the other side is the longer. It has two long edges and two ends all the same. */
static void test_nearly_square_sheet(void **state)
{
    (void)state;
    struct layout_bench b;
    lb_new(&b);
    lb_material(&b, "birch");
    lb_offer(&b, "square", IN(47.875), IN(48), IN(0.25), 3400);
    lb_part(&b, "panel", IN(40), IN(40), 1, DW_ALONG);
    const struct dw_material_layout made = lay_out(&b);
    assert_string_equal(made.ladder.rungs[0].steps[0].off, "both long edges and both ends");
    lb_free(&b);
}

static dw_length far_edge(const struct dw_layout_node *node)
{
    return node->y + node->width;
}

/* By hand: five strips of 4-1/2 ripped with a blade of 1/16 where 1/8 was counted on leave 24-3/8 and five sixteenths more. Sheet, panel and
 * words name one offcut, and the pieces lie where that blade leaves them. */
static void test_narrow_kerf_leaves_more(void **state)
{
    (void)state;
    struct layout_bench b;
    full_birch(&b, IN(0.25));
    sides_and_ends(&b, 16, 16);
    b.options.first_cut = 1;
    add_saw(&b, DW_TABLE_SAW, "table saw")->rip_most = IN(52);
    add_saw(&b, DW_TRACK_SAW, "track saw");
    b.saws[0].kerf = IN(0.0625);
    static const size_t holds[][2] = {{5, 1}, {5, 1}, {5, 1}, {1, 6}, {0, 7}};
    struct dw_material_layout made;
    rip_boxes(&b, holds, 5, &made);
    const struct dw_layout_node *root = &made.sheets[0].root, *left = &root->pieces[5];
    assert_int_equal(left->use, DW_NODE_KEEP);
    assert_int_equal(left->width, IN(24.6875));
    assert_int_equal(left->length, IN(95.5));
    assert_int_equal(far_edge(left), far_edge(root));
    assert_int_equal(root->pieces[1].y, root->y + IN(4.5 + 0.0625));
    assert_int_equal(root->pieces[0].after, IN(0.0625));
    assert_int_equal(made.kept_area, IN(24.6875) * IN(95.5));
    const struct dw_ladder_rung *rip = rung_at(&made, DW_LADDER_RIP, IN(4.5));
    assert_string_equal(rip->steps[0].left, "S1-off1 to keep, 95 1/2 x 24 11/16");
    const struct dw_panel *panel = &made.ladder.panels[rip->cuts[4].rest];
    assert_int_equal(panel->width, IN(24.6875));
    lb_free(&b);
}

/* Table saw owner's manual (page 45 of the one at manualsdump.com/amp/en/manuals/275312/45): nothing narrower than 1/2 in is ripped, nothing
 * shorter than 10 in; under 2 in a push block with an auxiliary fence. That the edge on the fence is not shorter than its distance: common
 * practice, no source. A shop that names no saw is held to the same. */
static void test_guides(void **state)
{
    (void)state;
    static const struct {
        double length, width; /* of the sheet, without trim */
        enum dw_cut cut;
        double size;          /* of the part across the cut */
        enum dw_status status;
        enum dw_guide guide;
        const char *caution;
    } rows[] = {
        {96, 48, DW_RIP, 20, DW_DONE, DW_GUIDE_FENCE, "helper"},
        {96, 48, DW_RIP, 1.5, DW_DONE, DW_GUIDE_FENCE, "push block"},
        {96, 48, DW_RIP, 0.375, DW_IMPOSSIBLE, DW_GUIDE_FENCE, ""},
        {60, 4.5, DW_CROSSCUT, 16, DW_DONE, DW_GUIDE_STOP, ""},
        {60, 4.5, DW_CROSSCUT, 4, DW_DONE, DW_GUIDE_STOP, ""},       /* only 4-1/2 on the fence: under 10 */
        {9.25, 4.5, DW_CROSSCUT, 9, DW_DONE, DW_GUIDE_STOP, "clamp"},
        {60, 20, DW_RIP, 12, DW_DONE, DW_GUIDE_FENCE, "helper"},
        {60, 20, DW_CROSSCUT, 40, DW_DONE, DW_GUIDE_TRACK, ""},       /* across a whole sheet: the track */
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct layout_bench b;
        lb_new(&b);
        lb_material(&b, "birch")->kerf = DW_INCH / 8;
        lb_offer(&b, "sheet", IN(rows[i].length), IN(rows[i].width), 0, 100);
        const bool rip = rows[i].cut == DW_RIP;
        lb_part(&b, "part", rip ? IN(rows[i].length) : IN(rows[i].size), rip ? IN(rows[i].size) : IN(rows[i].width), 1, DW_ALONG);
        if (strcmp(rows[i].caution, "clamp") == 0 || rows[i].guide == DW_GUIDE_STOP)
            add_saw(&b, DW_TABLE_SAW, "table saw");
        const struct dw_layout_problem *problem = problem_of(&b);
        struct dw_cut_layout layout = {.times = 1, .root = root_of(problem, 0)};
        be_part(&divide(&b, &layout.root, rows[i].cut, DW_INCH / 8, (const dw_length[]){IN(rows[i].size)}, 1)[0], 0);
        const struct dw_cut_plan plan = plan_of(&layout, 100);
        struct dw_material_layout made;
        const enum dw_status status = make(&b, problem, &plan, &made);
        if (status != rows[i].status)
            fail_msg("row %zu: status %d", i, (int)status);
        if (status == DW_DONE && (made.ladder.rungs[0].guide != rows[i].guide || strstr(made.ladder.rungs[0].caution, rows[i].caution) == NULL))
            fail_msg("row %zu: guide %d, caution \"%s\"", i, (int)made.ladder.rungs[0].guide, made.ladder.rungs[0].caution);
        lb_free(&b);
    }
}

/* A sheet trimmed 1/4 on a table saw alone, rip capacity 24, crosscut 24: no edge of the whole sheet can be trimmed. The first strip is cut
 * over size and trimmed by itself, and every strip has its ends squared; the parts come out all the same. */
static void test_trims_without_a_track(void **state)
{
    (void)state;
    struct layout_bench b;
    full_birch(&b, IN(0.25));
    sides_and_ends(&b, 10, 2);
    struct dw_saw *saw = add_saw(&b, DW_TABLE_SAW, "table saw");
    saw->rip_most = IN(24);
    b.options.first_cut = 1;
    static const size_t holds[][2] = {{5, 1}, {5, 1}};
    struct dw_material_layout made;
    rip_boxes(&b, holds, 2, &made);
    assert_non_null(rung_at(&made, DW_LADDER_RIP, IN(4.75))); /* 4-1/2 and the factory edge */
    assert_true(made.ladder.settings >= 4);
    lb_free(&b);
}

/* Four graduated fronts of one strip: they come off in their order, whatever their sizes. */
static void matched_bench(struct layout_bench *b)
{
    static const size_t parts[] = {0, 1, 1, 2}, pieces[] = {0, 0, 1, 0};
    lb_new(b);
    lb_material(b, "cherry");
    lb_offer(b, "full", IN(96), IN(48), IN(0.25), 12400);
    lb_part(b, "front", IN(4), IN(20), 1, DW_ALONG);
    lb_part(b, "front", IN(6), IN(20), 2, DW_ALONG);
    lb_part(b, "front", IN(8), IN(20), 1, DW_ALONG);
    b->matches[0] = (struct dw_match){.name = "left bank", .stacked_along = true, .parts = parts, .pieces = pieces, .count = 4};
    b->list.match_count = 1;
}

static void test_matched_fronts_keep_their_order(void **state)
{
    (void)state;
    struct layout_bench b;
    matched_bench(&b);
    const struct dw_layout_problem *problem = problem_of(&b);
    assert_int_equal(problem->request.part_count, 1);
    assert_int_equal(problem->request.parts[0].length, IN(4 + 6 + 6 + 8 + 3 * 0.125));
    assert_int_equal(problem->request.parts[0].width, IN(20));
    const struct dw_cut_plan *plan = NULL;
    assert_int_equal(dw_cut_solve(&problem->request, NULL, b.arena, b.faults, &plan), DW_DONE);
    struct dw_material_layout made;
    make_well(&b, problem, plan, &made);
    size_t order[4], count = 0;
    for (size_t r = 0; r < made.ladder.rung_count; r++)
        for (size_t c = 0; c < made.ladder.rungs[r].cut_count; c++) {
            const struct dw_ladder_cut *cut = &made.ladder.rungs[r].cuts[c];
            const size_t ends[] = {cut->off, cut->rest};
            for (size_t e = 0; e < 2; e++)
                if (ends[e] != DW_NO_INDEX && made.ladder.panels[ends[e]].use == DW_NODE_PART)
                    order[count++] = made.ladder.panels[ends[e]].piece.part * 10 + made.ladder.panels[ends[e]].piece.piece;
        }
    assert_int_equal(count, 4);
    static const size_t wanted[] = {0, 10, 11, 20};
    assert_memory_equal(order, wanted, sizeof wanted);
    lb_free(&b);
}

/* ---- random layouts ---- */

/* Whatever the saws, the ladder passes its replay or a fault names what cannot be cut; both happen. */
static void test_random_layouts(void **state)
{
    (void)state;
    static struct random_plan made;
    const uint64_t rounds = getenv("DW_LONG") != NULL ? 20000 : 400;
    uint64_t done = 0, no_saw = 0;
    for (uint64_t seed = 1; seed <= rounds; seed++) {
        random_plan_make(&made, seed);
        scale_up(&made);
        struct layout_bench b;
        bench_from(&b, &made);
        random_saws(&b, &made);
        const struct dw_layout_problem *problem = problem_of(&b);
        assert_int_equal(problem->request.part_count, made.request.part_count);
        struct dw_material_layout layout;
        const enum dw_status status = make(&b, problem, &made.plan, &layout);
        done += status == DW_DONE;
        no_saw += status == DW_IMPOSSIBLE;
        if (status != DW_DONE && status != DW_IMPOSSIBLE)
            fail_msg("seed %llu: %s: %s", (unsigned long long)seed, last_fault(&b)->code, last_fault(&b)->wrong);
        lb_free(&b);
    }
    assert_true(done > rounds / 5);
    assert_true(no_saw > rounds / 20);
}

/* ---- the replay ---- */

enum spoiling {
    SPOIL_SETTING, SPOIL_DROP_RUNG, SPOIL_SWAP_RUNGS, SPOIL_DROP_CUT, SPOIL_SWAP_MARKS, SPOIL_PANEL_SIZE, SPOIL_GUIDE, SPOIL_OFFCUT, SPOIL_OFFCUT_NAME,
    SPOIL_TWICE, SPOIL_STRANGER, SPOIL_MARK, SPOIL_TAKEN_PANEL, SPOIL_PAST_THE_EDGE, SPOIL_LEAVES_NOTHING, SPOILINGS
};

/* What the replay must say of each, among other things. */
static const char *const breaches[SPOILINGS] = {
    [SPOIL_SETTING] = "panel-size", [SPOIL_DROP_RUNG] = "panel-idle", [SPOIL_SWAP_RUNGS] = "panel-absent", [SPOIL_DROP_CUT] = "cut-count",
    [SPOIL_SWAP_MARKS] = "piece-size", [SPOIL_PANEL_SIZE] = "panel-size", [SPOIL_GUIDE] = "limit", [SPOIL_OFFCUT] = "offcut-count",
    [SPOIL_OFFCUT_NAME] = "offcut", [SPOIL_TWICE] = "piece-twice", [SPOIL_STRANGER] = "piece-unknown", [SPOIL_MARK] = "piece-mark",
    [SPOIL_TAKEN_PANEL] = "panel-number", [SPOIL_PAST_THE_EDGE] = "pass", [SPOIL_LEAVES_NOTHING] = "pass-panels",
};

static bool is_told(const struct layout_bench *b, const char *code, const char *words)
{
    for (size_t i = 0; i < b->faults->count; i++)
        if (strcmp(b->faults->at[i].code, code) == 0 && strstr(b->faults->at[i].wrong, words) != NULL)
            return true;
    return false;
}

/* A ladder that a test may write to. */
static void loosen(struct layout_bench *b, struct dw_material_layout *layout)
{
    struct dw_ladder *ladder = &layout->ladder;
    struct dw_ladder_rung *rungs = lb_room(b, ladder->rung_count, sizeof *rungs);
    memcpy(rungs, ladder->rungs, ladder->rung_count * sizeof *rungs);
    for (size_t r = 0; r < ladder->rung_count; r++) {
        struct dw_ladder_cut *cuts = lb_room(b, rungs[r].cut_count, sizeof *cuts);
        memcpy(cuts, rungs[r].cuts, rungs[r].cut_count * sizeof *cuts);
        rungs[r].cuts = cuts;
    }
    struct dw_panel *panels = lb_room(b, ladder->panel_count, sizeof *panels);
    memcpy(panels, ladder->panels, ladder->panel_count * sizeof *panels);
    ladder->rungs = rungs;
    ladder->panels = panels;
}

/* Spoils one thing; false when the ladder has nothing of that kind. */
static bool spoil(struct dw_material_layout *layout, enum spoiling what)
{
    struct dw_ladder *ladder = &layout->ladder;
    struct dw_ladder_rung *rungs = (struct dw_ladder_rung *)(uintptr_t)ladder->rungs;
    struct dw_panel *panels = (struct dw_panel *)(uintptr_t)ladder->panels;
    struct dw_ladder_cut *cut = (struct dw_ladder_cut *)(uintptr_t)rungs[0].cuts; /* the first: a trim */
    struct dw_panel *parts[2] = {NULL, NULL}, *kept = NULL;
    for (size_t i = 0; i < ladder->panel_count; i++) {
        if (panels[i].use == DW_NODE_PART && (parts[0] == NULL || (parts[1] == NULL && panels[i].length != parts[0]->length)))
            parts[parts[0] != NULL] = &panels[i];
        if (panels[i].use == DW_NODE_KEEP)
            kept = &panels[i];
    }
    switch (what) {
    case SPOIL_SETTING:
        rungs[ladder->rung_count - 1].setting -= DW_INCH / 64;
        return true;
    case SPOIL_DROP_RUNG:
        ladder->rung_count--;
        return true;
    case SPOIL_SWAP_RUNGS: {
        const struct dw_ladder_rung first = rungs[0];
        rungs[0] = rungs[ladder->rung_count - 1];
        rungs[ladder->rung_count - 1] = first;
        return true;
    }
    case SPOIL_DROP_CUT:
        rungs[1].cut_count--;
        return true;
    case SPOIL_SWAP_MARKS: {
        const struct dw_piece_ref piece = parts[0]->piece;
        parts[0]->piece = parts[1]->piece;
        parts[1]->piece = piece;
        return true;
    }
    case SPOIL_PANEL_SIZE:
        parts[0]->width++;
        return true;
    case SPOIL_GUIDE:
        rungs[ladder->rung_count - 1].guide = DW_GUIDE_FENCE; /* narrow stock against the fence */
        return true;
    case SPOIL_OFFCUT:
        kept->use = DW_NODE_WASTE;
        return true;
    case SPOIL_OFFCUT_NAME:
        kept->name = "none of this name";
        return true;
    case SPOIL_TWICE:
        parts[0]->piece = parts[1]->piece;
        return true;
    case SPOIL_STRANGER:
        parts[0]->piece.part = 99;
        return true;
    case SPOIL_MARK:
        parts[0]->name = parts[1]->name;
        return true;
    case SPOIL_TAKEN_PANEL:
        cut->rest = 0; /* the sheet itself */
        return true;
    case SPOIL_PAST_THE_EDGE:
        rungs[ladder->rung_count - 1].setting = IN(200);
        return true;
    case SPOIL_LEAVES_NOTHING:
        cut->rest = DW_NO_INDEX;
        return true;
    case SPOILINGS:
        break;
    }
    return false;
}

static void test_replay_refuses_spoiled_ladders(void **state)
{
    (void)state;
    for (int what = 0; what < SPOILINGS; what++) {
        struct layout_bench b;
        full_birch(&b, IN(0.25));
        sides_and_ends(&b, 10, 2);
        static const size_t holds[][2] = {{5, 1}, {5, 1}};
        struct dw_material_layout made;
        rip_boxes(&b, holds, 2, &made);
        loosen(&b, &made);
        assert_true(dw_ladder_replay(b.jobs, &made, b.faults));
        assert_true(spoil(&made, (enum spoiling)what));
        if (dw_ladder_replay(b.jobs, &made, b.faults))
            fail_msg("spoiling %d was not seen", what);
        if (!is_told(&b, breaches[what], ""))
            fail_msg("spoiling %d is no %s, but %s", what, breaches[what], b.faults->at[0].code);
        assert_int_equal(b.faults->status, DW_PROGRAM);
        lb_free(&b);
    }
}

/* A ladder that a saw can follow is refused when the saw is smaller than it was: each limit by itself. */
static void test_replay_holds_the_saw_to_its_limits(void **state)
{
    (void)state;
    const struct dw_saw table = {.name = "table saw", .kind = DW_TABLE_SAW, .kerf = DW_INCH / 8, .width_least = DW_INCH / 2, .rip_most = IN(50),
                                 .crosscut_most = IN(50), .edge_least = IN(10)};
    const struct dw_saw track = {.name = "track saw", .kind = DW_TRACK_SAW, .kerf = DW_INCH / 8, .width_least = DW_INCH / 2, .cut_longest = IN(120)};
    struct dw_saw small[6] = {table, table, table, table, table, track};
    small[0].kind = DW_TRACK_SAW;
    small[1].width_least = IN(20);
    small[2].rip_most = IN(1);
    small[3].crosscut_most = IN(1);
    small[4].edge_least = IN(100);
    small[5].cut_longest = IN(10);
    static const char *const words[] = {"no such guide", "least width", "rip capacity", "wider than the saw crosscuts", "too short an edge",
                                        "longer than the saw cuts"};
    for (size_t i = 0; i < 6; i++) {
        struct layout_bench b;
        full_birch(&b, IN(0.25));
        sides_and_ends(&b, 10, 2);
        b.saws[b.job.shop.saw_count++] = i < 5 ? table : track;
        static const size_t holds[][2] = {{5, 1}, {5, 1}};
        struct dw_material_layout made;
        rip_boxes(&b, holds, 2, &made);
        assert_true(dw_ladder_replay(b.jobs, &made, b.faults));
        b.saws[0] = small[i];
        if (dw_ladder_replay(b.jobs, &made, b.faults) || !is_told(&b, "limit", words[i]))
            fail_msg("not told: %s", words[i]);
        lb_free(&b);
    }
}

/* Two fronts of one size that change places come out to size, but their figure no longer runs through. */
static void test_replay_minds_the_order_of_matched_fronts(void **state)
{
    (void)state;
    for (int drop = 0; drop <= 1; drop++) {
        struct layout_bench b;
        struct dw_material_layout made;
        matched_bench(&b);
        const struct dw_layout_problem *problem = problem_of(&b);
        const struct dw_cut_plan *plan = NULL;
        assert_int_equal(dw_cut_solve(&problem->request, NULL, b.arena, b.faults, &plan), DW_DONE);
        make_well(&b, problem, plan, &made);
        loosen(&b, &made);
        assert_true(dw_ladder_replay(b.jobs, &made, b.faults));
        struct dw_panel *panels = (struct dw_panel *)(uintptr_t)made.ladder.panels, *twins[2];
        size_t found = 0;
        for (size_t i = 0; i < made.ladder.panel_count && found < 2; i++)
            if (panels[i].use == DW_NODE_PART && panels[i].piece.part == 1)
                twins[found++] = &panels[i];
        assert_int_equal(found, 2);
        const struct dw_panel first = *twins[0];
        twins[0]->piece = twins[1]->piece;
        twins[0]->name = twins[1]->name;
        twins[1]->piece = first.piece;
        twins[1]->name = first.name;
        if (drop)
            made.ladder.rung_count--; /* now some are not cut at all, and that is what is told */
        assert_false(dw_ladder_replay(b.jobs, &made, b.faults));
        assert_true(is_told(&b, drop ? "piece-missing" : "match", ""));
        lb_free(&b);
    }
}

/* ---- speed ---- */

/* 60 sheets of 17 parts each: under a second. */
static void test_a_thousand_parts_quickly(void **state)
{
    (void)state;
    struct layout_bench b;
    full_birch(&b, IN(0.25));
    enum { SIZES = 60, STRIPS = 17 };
    struct dw_cut_layout *layouts = lb_room(&b, SIZES, sizeof *layouts);
    for (size_t i = 0; i < SIZES; i++)
        lb_part(&b, "part", IN(60) + (dw_length)i * DW_INCH / 4, IN(2.5), STRIPS, DW_ALONG);
    const struct dw_layout_problem *problem = problem_of(&b);
    for (size_t i = 0; i < SIZES; i++) {
        layouts[i] = (struct dw_cut_layout){.times = 1, .root = root_of(problem, 0)};
        dw_length widths[STRIPS] = {0};
        for (size_t k = 0; k < STRIPS; k++)
            widths[k] = IN(2.5);
        struct dw_cut_node *strips = divide(&b, &layouts[i].root, DW_RIP, problem->request.kerf, widths, STRIPS);
        for (size_t k = 0; k < STRIPS; k++)
            be_part(&divide(&b, &strips[k], DW_CROSSCUT, problem->request.kerf, &problem->request.parts[i].length, 1)[0], i);
    }
    const struct dw_cut_plan plan = {.outcome = DW_CUT_PLAN, .layouts = layouts, .layout_count = SIZES, .cost = 60 * 6800};
    struct dw_material_layout made;
    const clock_t start = clock();
    make_well(&b, problem, &plan, &made);
    assert_true(clock() - start < CLOCKS_PER_SEC);
    assert_int_equal(made.ladder.settings, 1 + SIZES);
    lb_free(&b);
}

/* ---- memory ---- */

struct to_make {
    const struct dw_layout_problem *problem;
    const struct dw_cut_plan *plan;
};

static const void *solved_match(struct layout_bench *b)
{
    matched_bench(b);
    struct to_make *given = lb_room(b, 1, sizeof *given);
    given->problem = problem_of(b);
    assert_int_equal(dw_cut_solve(&given->problem->request, NULL, b->arena, b->faults, &given->plan), DW_DONE);
    return given;
}

static enum dw_status make_ladder(struct layout_bench *b, const void *given)
{
    const struct to_make *to_make = given;
    struct dw_material_layout made;
    return make(b, to_make->problem, to_make->plan, &made);
}

static void test_survives_failing_memory(void **state)
{
    (void)state;
    sweep_memory(solved_match, make_ladder);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_eight_boxes),
        cmocka_unit_test(test_eight_boxes_found),
        cmocka_unit_test(test_wide_panel_on_a_small_saw),
        cmocka_unit_test(test_no_saw_names_the_piece),
        cmocka_unit_test(test_offcut_that_no_saw_can_free),
        cmocka_unit_test(test_steps_are_said),
        cmocka_unit_test(test_wide_kerf_is_refused),
        cmocka_unit_test(test_nearly_square_sheet),
        cmocka_unit_test(test_narrow_kerf_leaves_more),
        cmocka_unit_test(test_guides),
        cmocka_unit_test(test_trims_without_a_track),
        cmocka_unit_test(test_matched_fronts_keep_their_order),
        cmocka_unit_test(test_random_layouts),
        cmocka_unit_test(test_replay_refuses_spoiled_ladders),
        cmocka_unit_test(test_replay_holds_the_saw_to_its_limits),
        cmocka_unit_test(test_replay_minds_the_order_of_matched_fronts),
        cmocka_unit_test(test_a_thousand_parts_quickly),
        cmocka_unit_test(test_survives_failing_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
