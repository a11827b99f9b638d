/* test_breakdown.c - sheets broken down by rough cuts, in the shop or at the yard: where they go, what they take, what the ladder and the shopping list
 * say, plans with room for them, random layouts under random limits (whatever comes out has passed the replay), and the replay against spoiled ones. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "random_bench.h"

static const dw_mass POUND = 453592; /* 0.45359237 kg */

/* MDF of 3/4 in at 48 lb a cubic foot: a sheet of 96 x 48 is two cubic feet, 96 lb. Rough cuts leave 1/4 over. */
static void heavy_bench(struct layout_bench *b, int64_t lift_pounds)
{
    full_birch(b, IN(0.25));
    b->materials[0].thickness = IN(0.75);
    b->materials[0].density = 48 * 16018463 / 1000; /* 1 lb/ft3 = 16.018463 kg/m3, in grams a cubic meter */
    b->job.shop.habits.rough_over = IN(0.25);
    b->options.lift_most = lift_pounds * POUND;
}

static const size_t EIGHT_BOXES[][2] = {{5, 1}, {5, 1}, {5, 1}, {1, 6}, {0, 7}};

static bool is_said(const char *const *cautions, size_t count, const char *words)
{
    for (size_t i = 0; i < count; i++)
        if (strstr(cautions[i], words) != NULL)
            return true;
    return false;
}

/* By hand. Eight boxes on one sheet, five strips of 4-1/2 and 24-3/8 left. A limit of 80 lb: the first cut is a rough one past the strips, at 1/4 (the
 * factory edge) and 23 and 1/4 over; the strips' panel is trimmed to 23, its clean edge against the fence; between strips and offcut go 1/4, a kerf of
 * 1/8 and 1/4, so that 23-7/8 is left. With a limit of 100 lb, or no over-size, the sheet stays whole. */
static void test_heavy_sheet(void **state)
{
    (void)state;
    static const struct {
        int64_t lift;
        double over;
        enum dw_breakdown broken;
        double left;
        const char *words;
    } rows[] = {
        {80, 0.25, DW_SHEET_ROUGH, 23.875, "96 lb: two people carry it to where the rough cuts are made"},
        {100, 0.25, DW_SHEET_WHOLE, 24.375, ""},
        {80, 0, DW_SHEET_WHOLE, 24.375, "96 lb: two people, or the yard makes the first cuts"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct layout_bench b;
        heavy_bench(&b, rows[i].lift);
        b.job.shop.habits.rough_over = IN(rows[i].over);
        sides_and_ends(&b, 16, 16);
        b.options.first_cut = 1;
        struct dw_material_layout made;
        rip_boxes(&b, EIGHT_BOXES, 5, &made);
        assert_int_equal(made.sheets[0].broken, rows[i].broken);
        assert_int_equal(find(&made.sheets[0].root, "S1-off1")->width, IN(rows[i].left));
        assert_int_equal(made.ladder.settings, 3);
        assert_int_equal(is_said(made.ladder.cautions, made.ladder.caution_count, " lb"), rows[i].words[0] != '\0');
        assert_true(is_said(made.ladder.cautions, made.ladder.caution_count, rows[i].words));
        if (rows[i].broken == DW_SHEET_ROUGH) {
            const struct dw_ladder_rung *rough = &made.ladder.rungs[0], *trim = rung_at(&made, DW_LADDER_TRIM, IN(23));
            assert_int_equal(rough->kind, DW_LADDER_ROUGH);
            assert_int_equal(rough->guide, DW_GUIDE_ROUGH);
            assert_int_equal(rough->setting, IN(23.5));
            assert_string_equal(rough->edge, "from the factory edge, 1/4 over");
            assert_int_equal(made.sheets[0].root.pieces[0].after, IN(0.625));
            assert_non_null(trim);
            assert_int_equal(trim->guide, DW_GUIDE_FENCE);
            assert_string_equal(trim->edge, "far edge against the fence, rough edge off");
        }
        lb_free(&b);
    }
}

/* A sheet larger than what the shop handles at the saw is broken down whatever it weighs. */
static void test_large_sheet(void **state)
{
    (void)state;
    struct layout_bench b;
    heavy_bench(&b, 1000);
    b.job.shop.habits.handle_width = IN(30);
    sides_and_ends(&b, 16, 16);
    b.options.first_cut = 1;
    struct dw_material_layout made;
    rip_boxes(&b, EIGHT_BOXES, 5, &made);
    assert_int_equal(made.sheets[0].broken, DW_SHEET_ROUGH);
    assert_false(made.sheets[0].unwieldy);
    for (size_t i = 0; i < made.ladder.panel_count; i++)
        if (made.ladder.panels[i].use == DW_NODE_CUT && strcmp(made.ladder.panels[i].name, "S1") != 0)
            assert_true(dw_least(made.ladder.panels[i].length, made.ladder.panels[i].width) <= IN(30));
    lb_free(&b);
}

/* A circular saw makes rough cuts only, with its own kerf: here 3/32, where 1/8 is counted on. The edges of the panels are trimmed at the table saw,
 * whose fence reaches 52: never with a rough edge against it (the replay sees to that). A shop of the table saw alone breaks nothing down. */
static void test_circular_saw(void **state)
{
    (void)state;
    for (int circular = 0; circular < 2; circular++) {
        struct layout_bench b;
        heavy_bench(&b, 80);
        sides_and_ends(&b, 16, 16);
        b.options.first_cut = 1;
        struct dw_saw *table = add_saw(&b, DW_TABLE_SAW, "table saw");
        table->rip_most = IN(52);
        table->crosscut_most = IN(60);
        if (circular > 0)
            add_saw(&b, DW_CIRCULAR_SAW, "circular saw")->kerf = IN(0.09375);
        struct dw_material_layout made;
        rip_boxes(&b, EIGHT_BOXES, 5, &made);
        assert_int_equal(made.sheets[0].broken, circular > 0 ? DW_SHEET_ROUGH : DW_SHEET_WHOLE);
        for (size_t r = circular > 0 ? 1 : 0; r < made.ladder.rung_count; r++)
            assert_int_equal(made.ladder.rungs[r].saw, 0);
        if (circular > 0) {
            assert_int_equal(made.ladder.rungs[0].saw, 1);
            assert_int_equal(made.sheets[0].root.pieces[0].after, IN(0.59375));
        }
        lb_free(&b);
    }
}

/* Two panels of 23-11/16 and one kerf fill the 47-1/2 between the trims: no room for a rough cut, and none is made for the weight's sake. */
static void test_no_room(void **state)
{
    (void)state;
    struct layout_bench b;
    heavy_bench(&b, 80);
    lb_part(&b, "panel", IN(95.5), IN(23.6875), 2, DW_ALONG);
    const struct dw_purchase *purchase = NULL;
    assert_int_equal(dw_purchase_make(b.jobs, 1, &b.options, NULL, b.arena, b.faults, &purchase), DW_DONE);
    const struct dw_material_layout *made = &purchase->layouts->materials[0];
    assert_int_equal(made->sheet_count, 1);
    assert_int_equal(made->sheets[0].broken, DW_SHEET_WHOLE);
    assert_true(made->sheets[0].unwieldy);
    assert_true(is_said(made->ladder.cautions, made->ladder.caution_count, "two people"));
    lb_free(&b);
}

/* By hand: parts of 40 x 23-11/16, two across the sheet. Ripped first there is no room between the strips; crosscut first there is plenty, and that is
 * found among the plans of the same sheets. */
static void test_room_is_found_the_other_way(void **state)
{
    (void)state;
    struct layout_bench b;
    heavy_bench(&b, 60);
    lb_part(&b, "shelf", IN(40), IN(23.6875), 4, DW_ALONG);
    const struct dw_layout_problem *problem = problem_of(&b);
    struct dw_cut_layout layout = {.times = 1, .root = root_of(problem, 0)};
    struct dw_cut_node *strips = divide(&b, &layout.root, DW_RIP, IN(0.125), (const dw_length[]){IN(23.6875), IN(23.6875)}, 2);
    for (size_t i = 0; i < 2; i++) {
        struct dw_cut_node *parts = divide(&b, &strips[i], DW_CROSSCUT, IN(0.125), (const dw_length[]){IN(40), IN(40)}, 2);
        be_part(&parts[0], 0);
        be_part(&parts[1], 0);
    }
    const struct dw_cut_plan plan = plan_of(&layout, 6800);
    struct dw_material_layout made;
    make_well(&b, problem, &plan, &made);
    assert_int_equal(made.sheets[0].root.cut, DW_CROSSCUT);
    assert_int_equal(made.sheets[0].broken, DW_SHEET_ROUGH);
    assert_false(made.sheets[0].unwieldy);
    lb_free(&b);
}

/* ---- the yard ---- */

/* By hand: four shelves of 40 x 23-11/16 in a van of 60 x 48. The yard cuts off 1/4 + 40 + 1/4 = 40-1/2; then 1/4 + 40 + 1/4 from the fresh edge, and
 * what is left is scrap or an offcut. What to ask for stands on the shopping list. A limit on weight that the pieces keep goes with it. */
static void test_yard(void **state)
{
    (void)state;
    struct layout_bench b;
    heavy_bench(&b, 60);
    b.job.shop.habits.van_length = IN(60);
    b.job.shop.habits.van_width = IN(48);
    lb_part(&b, "shelf", IN(40), IN(23.6875), 4, DW_ALONG);
    const struct dw_purchase *purchase = NULL;
    assert_int_equal(dw_purchase_make(b.jobs, 1, &b.options, NULL, b.arena, b.faults, &purchase), DW_DONE);
    const struct dw_material_layout *made = &purchase->layouts->materials[0];
    assert_int_equal(made->sheet_count, 1);
    assert_int_equal(made->sheets[0].broken, DW_SHEET_YARD);
    assert_int_equal(made->ladder.rungs[0].kind, DW_LADDER_YARD);
    assert_int_equal(made->ladder.rungs[0].guide, DW_GUIDE_YARD);
    assert_int_equal(made->ladder.rungs[0].setting, IN(40.5));
    assert_string_equal(purchase->cautions[0],
                        "Have the yard cut birch, sheet S1 (96 in x 48 in), roughly, so that it fits the van: S1 across, 40 1/2 in off. "
                        "Pieces to take home: S1-a 40 1/2 in x 48 in, S1-b 55 3/8 in x 48 in.");
    lb_free(&b);
}

/* The same shelves, twelve on three sheets: the yard is asked once for sheets that are cut alike. */
static void test_yard_likewise(void **state)
{
    (void)state;
    struct layout_bench b;
    heavy_bench(&b, 200);
    b.job.shop.habits.van_length = IN(60);
    b.job.shop.habits.van_width = IN(48);
    lb_part(&b, "shelf", IN(40), IN(23.6875), 12, DW_ALONG);
    const struct dw_purchase *purchase = NULL;
    assert_int_equal(dw_purchase_make(b.jobs, 1, &b.options, NULL, b.arena, b.faults, &purchase), DW_DONE);
    assert_int_equal(purchase->layouts->materials[0].sheet_count, 3);
    assert_non_null(strstr(purchase->cautions[0], "Likewise S2, S3."));
    assert_null(strstr(purchase->cautions[1], "Have the yard"));
    lb_free(&b);
}

/* A part that the van does not take is named, whatever the sheets; unless an offcut in the shop holds it. */
static void test_part_over_the_van(void **state)
{
    (void)state;
    for (int owned = 0; owned < 2; owned++) {
        struct layout_bench b;
        full_birch(&b, IN(0.25));
        b.job.shop.habits.rough_over = IN(0.25);
        b.job.shop.habits.van_length = IN(60);
        lb_part(&b, "side", IN(70), IN(12), 1, DW_ALONG);
        const struct dw_owned offcut = {.id = "R1", .material = "birch", .length = IN(80), .width = IN(20), .value = 100, .count = 1};
        b.options.owned = &offcut;
        b.options.owned_count = (size_t)owned;
        const struct dw_purchase *purchase = NULL;
        const enum dw_status status = dw_purchase_make(b.jobs, 1, &b.options, NULL, b.arena, b.faults, &purchase);
        assert_int_equal(status, owned > 0 ? DW_DONE : DW_IMPOSSIBLE);
        if (owned == 0) {
            assert_string_equal(b.faults->at[0].code, "part-over-van");
            assert_non_null(strstr(b.faults->at[0].wrong, "side S1-1 needs 70 x 12 of birch, and the van takes no more than 60 x 60"));
        }
        lb_free(&b);
    }
}

/* Three shelves of 31-3/4 and two kerfs fill the 95-1/2 between the trims, and a van of 60 wants a rough cut among them. With room for it only two go
 * side by side, so two sheets are bought; the bound is still that of the search without room, and the warning says both prices. */
static void test_room_for_the_yard_costs_a_sheet(void **state)
{
    (void)state;
    struct layout_bench b;
    full_birch(&b, IN(0.25));
    b.job.shop.habits.rough_over = IN(0.25);
    b.job.shop.habits.van_length = IN(60);
    lb_part(&b, "shelf", IN(31.75), IN(47.5), 3, DW_ALONG);
    const struct dw_purchase *purchase = NULL;
    assert_int_equal(dw_purchase_make(b.jobs, 1, &b.options, NULL, b.arena, b.faults, &purchase), DW_DONE);
    assert_int_equal(purchase->layouts->materials[0].sheet_count, 2);
    assert_int_equal(purchase->sheets_cost, 2 * 6800);
    assert_int_equal(purchase->layouts->materials[0].lower_bound, 6800);
    assert_false(purchase->layouts->materials[0].proved);
    bool told = false;
    for (size_t i = 0; i < b.faults->count; i++)
        told = told || (strcmp(b.faults->at[i].code, "cut-otherwise") == 0 && strstr(b.faults->at[i].cure, "68.00, this one 136.00") != NULL);
    assert_true(told);
    lb_free(&b);
}

/* By hand: a shelf of 20 x 47-1/2 off a sheet of 96 x 48 leaves 95-1/2 - 20 - 5/8 = 74-7/8, too long for a van of 50 x 48: the yard cuts it in two,
 * and with 5/8 between them each is 37-1/8. Each has a letter. */
static void test_offcut_for_the_van(void **state)
{
    (void)state;
    struct layout_bench b;
    full_birch(&b, IN(0.25));
    b.job.shop.habits.rough_over = IN(0.25);
    b.job.shop.habits.van_length = IN(50);
    b.job.shop.habits.van_width = IN(48);
    lb_part(&b, "shelf", IN(20), IN(47.5), 1, DW_ALONG);
    const struct dw_material_layout made = lay_out(&b);
    const struct dw_layout_node *one = find(&made.sheets[0].root, "S1-off1a"), *other = find(&made.sheets[0].root, "S1-off1b");
    assert_true(one != NULL && other != NULL);
    assert_int_equal(one->length, IN(37.125));
    assert_int_equal(other->length, IN(37.125));
    assert_int_equal(other->x - one->x, IN(37.125 + 0.625));
    assert_int_equal(made.ladder.rungs[1].kind, DW_LADDER_YARD);
    lb_free(&b);
}

/* ---- room ---- */

/* A plan with room is one of the same request, and leaves along its first cut what a rough cut takes beyond a kerf, once for each panel. */
static void test_plans_with_room(void **state)
{
    (void)state;
    for (int across = 0; across < 2; across++) {
        struct layout_bench b;
        heavy_bench(&b, 60);
        lb_part(&b, "shelf", IN(30), IN(11), 9, DW_FREE);
        b.options.first_cut = 1 + across;
        const struct dw_layout_problem *problem = problem_of(&b);
        const struct dw_cut_plan *bound = NULL, *plan = NULL;
        assert_int_equal(dw_cut_solve(&problem->request, NULL, b.arena, b.faults, &bound), DW_DONE);
        assert_int_equal(dw_layout_solve_with_room(b.jobs, problem, bound, NULL, b.arena, b.faults, &plan), DW_DONE);
        assert_int_equal(plan->outcome, DW_CUT_PLAN);
        assert_true(dw_cut_check(&problem->request, plan, b.faults));
        assert_ptr_equal(plan->certificate, bound->certificate);
        const struct dw_cut_node *root = &plan->layouts[0].root;
        assert_int_equal(root->cut, across > 0 ? DW_CROSSCUT : DW_RIP);
        const struct dw_cut_node *last = &root->pieces[root->piece_count - 1];
        assert_true(last->use == DW_NODE_KEEP || last->use == DW_NODE_WASTE);
        assert_true((across > 0 ? last->length : last->width) >= 2 * IN(0.5) - IN(0.125));
        lb_free(&b);
    }
}

/* ---- random layouts ---- */

static dw_length random_limit(struct dice *dice)
{
    return dice_one_in(dice, 3) ? 0 : dice_range(dice, 20, 120) * DW_INCH / 2;
}

/* One that takes the largest part, and not much more. */
static void random_van(struct dw_habits *habits, struct random_plan *made)
{
    for (size_t p = 0; p < made->request.part_count; p++) {
        habits->van_length = dw_most(habits->van_length, dw_most(made->parts[p].length, made->parts[p].width));
        habits->van_width = dw_most(habits->van_width, dw_least(made->parts[p].length, made->parts[p].width));
    }
    habits->van_length += dice_range(&made->dice, 0, 30) * DW_INCH / 2;
    habits->van_width = dice_one_in(&made->dice, 3) ? 0 : habits->van_width + dice_range(&made->dice, 0, 30) * DW_INCH / 2;
}

/* Whatever the limits and saws, the ladder passes its replay, or a fault names what cannot be had; all of it happens. */
static void test_random_limits(void **state)
{
    (void)state;
    static struct random_plan made;
    const uint64_t rounds = getenv("DW_LONG") != NULL ? 20000 : 600;
    size_t done = 0, rough = 0, yard = 0, unwieldy = 0, over_van = 0;
    for (uint64_t seed = 1; seed <= rounds; seed++) {
        random_plan_make(&made, seed);
        scale_up(&made);
        struct layout_bench b;
        bench_from(&b, &made);
        random_saws(&b, &made);
        struct dw_habits *habits = &b.job.shop.habits;
        if (dice_one_in(&made.dice, 3) && b.job.shop.saw_count > 0)
            add_saw(&b, DW_CIRCULAR_SAW, "circular saw")->kerf = made.request.kerf + IN(0.0625);
        habits->rough_over = dice_range(&made.dice, 1, 8) * DW_INCH / 16;
        habits->handle_length = random_limit(&made.dice);
        habits->handle_width = random_limit(&made.dice);
        if (dice_one_in(&made.dice, 2))
            random_van(habits, &made);
        b.materials[0].density = 700000;
        b.options.lift_most = dice_range(&made.dice, 2, 30) * 1000000;
        const struct dw_layout_problem *problems = NULL;
        size_t count = 0;
        if (dw_layout_problems(b.jobs, 1, &b.options, b.arena, b.faults, &problems, &count) != DW_DONE) {
            assert_string_equal(last_fault(&b)->code, "part-over-van");
            lb_free(&b);
            continue;
        }
        struct dw_material_layout layout;
        const enum dw_status status = make(&b, &problems[0], &made.plan, &layout);
        done += status == DW_DONE;
        if (status != DW_DONE && status != DW_IMPOSSIBLE)
            fail_msg("seed %llu: %s: %s", (unsigned long long)seed, last_fault(&b)->code, last_fault(&b)->wrong);
        for (size_t s = 0; s < layout.sheet_count; s++) {
            rough += status == DW_DONE && layout.sheets[s].broken == DW_SHEET_ROUGH;
            yard += status == DW_DONE && layout.sheets[s].broken == DW_SHEET_YARD;
            unwieldy += status == DW_DONE && layout.sheets[s].unwieldy;
            over_van += layout.sheets[s].over_van;
        }
        lb_free(&b);
    }
    assert_true(done > rounds / 3);
    assert_true(rough > rounds / 20);
    assert_true(yard > rounds / 20);
    assert_true(unwieldy > rounds / 20);
    assert_true(over_van > rounds / 40);
}

/* ---- the replay ---- */

enum spoiling { SPOIL_LATE, SPOIL_GUIDE, SPOIL_FENCE, SPOIL_STAYS_ON, SPOIL_VAN, SPOIL_YARD_LATE, SPOILINGS };

static struct dw_ladder_rung *loose_rungs(struct layout_bench *b, struct dw_material_layout *layout)
{
    struct dw_ladder_rung *rungs = lb_room(b, layout->ladder.rung_count, sizeof *rungs);
    memcpy(rungs, layout->ladder.rungs, layout->ladder.rung_count * sizeof *rungs);
    layout->ladder.rungs = rungs;
    return rungs;
}

static void swap_rungs(struct dw_ladder_rung *a, struct dw_ladder_rung *b)
{
    const struct dw_ladder_rung first = *a;
    *a = *b;
    *b = first;
}

/* The ladder of the heavy sheet (rough cut, trims, trim to 23 at the fence) or the yard's, spoiled in one thing. */
static void spoil(struct layout_bench *b, struct dw_material_layout *layout, enum spoiling what)
{
    struct dw_ladder_rung *rungs = loose_rungs(b, layout);
    switch (what) {
    case SPOIL_LATE: /* trims before the rough cut */
        swap_rungs(&rungs[0], &rungs[1]);
        break;
    case SPOIL_GUIDE:
        rungs[0].guide = DW_GUIDE_TRACK;
        break;
    case SPOIL_FENCE: { /* the factory edge off, the rough one against the fence */
        struct dw_ladder_cut *cut = lb_room(b, 1, sizeof *cut);
        *cut = rungs[2].cuts[0];
        cut->high = !cut->high;
        rungs[2].cuts = cut;
        break;
    }
    case SPOIL_STAYS_ON:
        b->job.shop.habits.rough_over += DW_INCH / 16;
        break;
    case SPOIL_VAN:
        b->job.shop.habits.van_length = IN(95);
        break;
    case SPOIL_YARD_LATE:
        rungs[0].kind = DW_LADDER_YARD;
        rungs[0].guide = DW_GUIDE_YARD;
        swap_rungs(&rungs[0], &rungs[layout->ladder.rung_count - 1]);
        break;
    case SPOILINGS:
        break;
    }
}

static void test_replay_refuses_spoiled_breakdowns(void **state)
{
    (void)state;
    for (int what = 0; what < SPOILINGS; what++) {
        struct layout_bench b;
        heavy_bench(&b, 80);
        sides_and_ends(&b, 16, 16);
        b.options.first_cut = 1;
        struct dw_material_layout made;
        rip_boxes(&b, EIGHT_BOXES, 5, &made);
        assert_true(dw_ladder_replay(b.jobs, &made, b.faults));
        spoil(&b, &made, (enum spoiling)what);
        if (dw_ladder_replay(b.jobs, &made, b.faults))
            fail_msg("spoiling %d was not seen", what);
        lb_free(&b);
    }
}

/* ---- memory ---- */

static const void *shelves(struct layout_bench *b)
{
    heavy_bench(b, 60);
    lb_part(b, "shelf", IN(40), IN(22), 2, DW_ALONG);
    b->job.shop.habits.van_length = IN(60);
    b->options.first_cut = 2;
    const struct dw_layout_problem *problem = problem_of(b);
    return problem;
}

static enum dw_status solve_and_make(struct layout_bench *b, const void *given)
{
    static const struct dw_cut_plan none;
    const struct dw_cut_plan *plan = NULL;
    struct dw_material_layout made;
    const enum dw_status status = dw_layout_solve_with_room(b->jobs, given, &none, NULL, b->arena, b->faults, &plan);
    return status == DW_DONE ? make(b, given, plan, &made) : status;
}

static void test_survives_failing_memory(void **state)
{
    (void)state;
    sweep_memory(shelves, solve_and_make);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_heavy_sheet),
        cmocka_unit_test(test_large_sheet),
        cmocka_unit_test(test_circular_saw),
        cmocka_unit_test(test_no_room),
        cmocka_unit_test(test_room_is_found_the_other_way),
        cmocka_unit_test(test_yard),
        cmocka_unit_test(test_yard_likewise),
        cmocka_unit_test(test_part_over_the_van),
        cmocka_unit_test(test_room_for_the_yard_costs_a_sheet),
        cmocka_unit_test(test_offcut_for_the_van),
        cmocka_unit_test(test_plans_with_room),
        cmocka_unit_test(test_random_limits),
        cmocka_unit_test(test_replay_refuses_spoiled_breakdowns),
        cmocka_unit_test(test_survives_failing_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
