/* test_progress.c - the plan follows the work: marks by piece and by sheet, taken back, replaced; what is left planned again from what is left. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <sqlite3.h>

#include "progress_bench.h"

/* Eight boxes, sides and ends of one height, all from one sheet. */
static const char eight_boxes[] =
    "{\"format\": 1, \"name\": \"Eight boxes\", \"units\": \"in\", \"shop\": {\"materials\": [{\"id\": \"ply\", \"kind\": \"plywood\","
    " \"thickness\": \"1/2\", \"sheets\": [{\"id\": \"4x8\", \"length\": 96, \"width\": 48, \"price\": \"60.00\"}]}]},"
    " \"parts\": [{\"name\": \"side\", \"material\": \"ply\", \"length\": 16, \"width\": \"4 1/2\", \"count\": 16, \"grain\": \"along\"},"
    " {\"name\": \"end\", \"material\": \"ply\", \"length\": \"12 1/2\", \"width\": \"4 1/2\", \"count\": 16, \"grain\": \"along\"}]}";

/* Two boxes in an opening of 15 in on side-mount slides of 1/2 in: 14 in wide outside, the box front between the sides. */
static const char two_boxes[] =
    "{\"format\": 1, \"name\": \"Two boxes\", \"units\": \"in\", " TEST_SHOP ", \"cases\": [{\"name\": \"Case\", \"opening\": {\"width\": 15,"
    " \"height\": 12, \"depth\": 20}, \"slide\": \"side\", \"fit\": \"inset\", \"front\": {\"material\": \"ply 3/4\"},"
    " \"box\": {\"sides\": \"ply 1/2\", \"front\": \"ply 1/2\", \"back\": \"ply 1/2\", \"bottom\": \"ply 1/4\", \"joint\": \"butt\"},"
    " \"banks\": [{\"drawers\": [{}, {}]}]}]}";

static const struct dw_plan *enter_new(struct bench *bench, const struct dw_job *job)
{
    const struct dw_plan *plan = bench_plan(bench, job, NULL, NULL);
    if (plan == NULL)
        print_faults(bench->faults);
    assert_non_null(plan);
    assert_int_equal(bench_enter(bench, plan), DW_DONE);
    return plan;
}

static const char *first_piece(const struct dw_plan *plan, const char *name)
{
    for (size_t p = 0; p < plan->part_count; p++)
        if (strcmp(plan->parts[p].name, name) == 0)
            return plan->parts[p].pieces[0];
    fail_msg("no part is called %s", name);
    return "";
}

static const char *first_sheet(const struct dw_plan *plan)
{
    return plan->materials[0].sheets[0].name;
}

static size_t pieces_of(const struct dw_plan *plan)
{
    size_t count = 0;
    for (size_t p = 0; p < plan->part_count; p++)
        count += plan->parts[p].count;
    return count;
}

static bool is_cut(const struct dw_progress *progress, const char *mark)
{
    for (size_t i = 0; i < progress->cut_count; i++)
        if (strcmp(progress->cut[i].piece.mark, mark) == 0)
            return true;
    return false;
}

static bool is_left(const struct dw_progress *progress, dw_length length, dw_length width)
{
    for (size_t i = 0; i < progress->left_count; i++)
        if (progress->left[i].panel.length == length && progress->left[i].panel.width == width)
            return true;
    return false;
}

/* Common practice, no source: 96 x 48 less 1/4 all round is 95 1/2 x 47 1/2; five rips of 4 1/2 with their kerfs of 1/8 leave 24 3/8; one more side
 * takes 4 1/2 and a kerf of that, which leaves 19 3/4. */
static void test_one_side_spoiled(void **state)
{
    struct bench *bench = *state;
    const struct dw_job *job = bench_job(bench, eight_boxes, NULL);
    const struct dw_plan *plan = enter_new(bench, job);
    const char *side = first_piece(plan, "side");
    bench_cut_all(bench, plan->plan_id);
    assert_int_equal(bench_progress(bench, plan->plan_id)->cut_count, 32);
    assert_true(is_left(bench_progress(bench, plan->plan_id), 95 * DW_INCH + DW_INCH / 2, 24 * DW_INCH + 3 * DW_INCH / 8));
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SPOILED, side, 0), DW_DONE);
    const struct dw_plan *again = bench_plan(bench, job, NULL, plan->plan_id);
    assert_non_null(again);
    assert_int_equal(again->total, 0);
    assert_int_equal(again->part_count, 1);
    assert_int_equal(again->parts[0].count, 1);
    assert_string_equal(again->parts[0].pieces[0], side);
    const struct dw_ladder_rung *first = &bench->run.purchase->layouts->materials[0].ladder.rungs[0];
    assert_int_equal(first->kind, DW_LADDER_RIP);
    assert_int_equal(first->setting, 4 * DW_INCH + DW_INCH / 2);
    assert_int_equal(bench_enter(bench, again), DW_DONE);
    assert_int_equal(bench_progress(bench, again->plan_id)->cut_count, 31);
    bench_cut_all(bench, again->plan_id);
    const struct dw_progress *progress = bench_progress(bench, again->plan_id);
    assert_int_equal(progress->cut_count, 32);
    assert_true(is_left(progress, 95 * DW_INCH + DW_INCH / 2, 19 * DW_INCH + 3 * DW_INCH / 4));
    assert_null(bench_plan(bench, job, NULL, again->plan_id));
    assert_string_equal(bench_code(bench), "nothing-left");
}

/* By hand: a van of 72 x 40 takes the eight boxes' sheet in three pieces, 32-5/8, 25-5/8 and 37-1/2 long. What was to be trimmed off the middle one is
 * 1/4 of factory edge along both long edges and 1/4 over at both ends: 25-1/8 x 47-1/2 of it can be used when the work goes on otherwise. */
static void test_rough_edges_are_not_used(void **state)
{
    static const char boxes[] =
        "{\"format\": 1, \"name\": \"Eight boxes\", \"units\": \"in\", \"shop\": {\"habits\": {\"van_length\": 72, \"van_width\": 40},"
        " \"materials\": [{\"id\": \"mdf\", \"kind\": \"MDF\", \"thickness\": \"3/4\","
        " \"sheets\": [{\"id\": \"full\", \"length\": 96, \"width\": 48, \"price\": \"50.00\"}]}]},"
        " \"parts\": [{\"name\": \"side\", \"material\": \"mdf\", \"length\": 16, \"width\": \"4 1/2\", \"count\": 16},"
        " {\"name\": \"end\", \"material\": \"mdf\", \"length\": \"12 1/2\", \"width\": \"4 1/2\", \"count\": 16}]}";
    struct bench *bench = *state;
    const struct dw_plan *plan = enter_new(bench, bench_job(bench, boxes, NULL));
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SHEET, "S1", 2), DW_DONE);
    const struct dw_progress *progress = bench_progress(bench, plan->plan_id);
    size_t seen = 0;
    for (size_t i = 0; i < progress->left_count; i++) {
        const struct dw_work_panel *panel = &progress->left[i].panel;
        if (strcmp(panel->name, "S1-b") != 0)
            continue;
        seen++;
        assert_int_equal(panel->length, 25 * DW_INCH + 5 * DW_INCH / 8);
        for (int side = 0; side < 4; side++)
            assert_int_equal(panel->trim[side], DW_INCH / 4);
    }
    assert_int_equal(seen, 1);
}

/* By step 3 the sides are cut; every strip still holds its ends. */
static void test_a_sheet_half_way(void **state)
{
    struct bench *bench = *state;
    const struct dw_plan *plan = enter_new(bench, bench_job(bench, eight_boxes, NULL));
    int64_t last = 0;
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SHEET, first_sheet(plan), 2), DW_DONE);
    const struct dw_progress *ripped = bench_progress(bench, plan->plan_id);
    assert_int_equal(ripped->cut_count, 0);
    assert_int_equal(ripped->left_count, 6); /* five strips and the rest */
    for (size_t i = 0; i < ripped->plan.pass_count; i++)
        last = ripped->plan.passes[i].step;
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SHEET, first_sheet(plan), last + 1), DW_IMPOSSIBLE);
    assert_string_equal(bench_code(bench), "no-step");
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SHEET, "no sheet", 1), DW_IMPOSSIBLE);
    assert_string_equal(bench_code(bench), "no-sheet");
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SHEET, first_sheet(plan), last), DW_DONE);
    assert_int_equal(bench_progress(bench, plan->plan_id)->cut_count, 32);
}

/* One piece that is cut says that its strip was ripped, and so what lies beside it. */
static void test_one_piece_tells_of_its_strip(void **state)
{
    struct bench *bench = *state;
    const struct dw_plan *plan = enter_new(bench, bench_job(bench, eight_boxes, NULL));
    const char *side = first_piece(plan, "side");
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_CUT, side, 0), DW_DONE);
    const struct dw_progress *progress = bench_progress(bench, plan->plan_id);
    assert_true(is_cut(progress, side));
    assert_true(is_left(progress, 95 * DW_INCH + DW_INCH / 2 - 16 * DW_INCH - DW_INCH / 8, 4 * DW_INCH + DW_INCH / 2));
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_CUT, side, 0), DW_IMPOSSIBLE);
    assert_string_equal(bench_code(bench), "cut-already");
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_CUT, "nobody", 0), DW_IMPOSSIBLE);
    assert_string_equal(bench_code(bench), "no-piece");
}

/* A strip keeps its name as it is crosscut; the name means what of it lies there. */
static void test_a_name_means_what_lies_there(void **state)
{
    struct bench *bench = *state;
    const struct dw_job *job = bench_job(bench, eight_boxes, NULL);
    const struct dw_plan *plan = enter_new(bench, job);
    const struct dw_progress *progress = bench_progress(bench, plan->plan_id);
    const struct dw_work_pass *last = &progress->plan.passes[progress->plan.pass_count - 1];
    const char *strip = progress->plan.panels[last->panel].name; /* cut last: only ends, one crosscut after the other */
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_CUT, strip, 0), DW_DONE);
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_CUT, strip, 0), DW_IMPOSSIBLE);
    for (size_t i = 0; i < progress->plan.pass_count; i++) {
        const struct dw_work_pass *pass = &progress->plan.passes[i];
        if (strcmp(progress->plan.panels[pass->panel].name, strip) == 0 && pass->off != DW_NO_PANEL && i + 2 < progress->plan.pass_count)
            assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_CUT, progress->plan.panels[pass->off].name, 0), DW_DONE);
    }
    const size_t cut = bench_progress(bench, plan->plan_id)->cut_count;
    assert_true(cut > 1);
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SPOILED, strip, 0), DW_DONE);
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SPOILED, strip, 0), DW_IMPOSSIBLE);
    assert_string_equal(bench_code(bench), "spoiled-already");
    assert_int_equal(bench_progress(bench, plan->plan_id)->cut_count, cut);
    assert_int_equal(pieces_of(bench_plan(bench, job, NULL, plan->plan_id)), 32 - cut);
}

/* ---- measured material ------------------------------------------------------------------------------------ */

static const struct dw_plan_part *part_with(const struct dw_plan *plan, const char *mark)
{
    for (size_t p = 0; p < plan->part_count; p++)
        for (size_t i = 0; i < plan->parts[p].count; i++)
            if (strcmp(plan->parts[p].pieces[i], mark) == 0)
                return &plan->parts[p];
    return NULL;
}

static const struct dw_made_piece *made_with(const struct dw_progress *progress, const char *mark)
{
    for (size_t i = 0; i < progress->cut_count; i++)
        if (strcmp(progress->cut[i].piece.mark, mark) == 0)
            return &progress->cut[i];
    fail_msg("%s is not cut", mark);
    return NULL;
}

/* Common practice, no source: 15 in less two clearances of 1/2 is 14; between sides of 1/2 that is 13, between sides of 15/32 it is 13 1/16. */
static void test_plywood_turns_out_thinner(void **state)
{
    struct bench *bench = *state;
    const struct dw_plan *plan = enter_new(bench, bench_job(bench, two_boxes, NULL));
    const char *cut = first_piece(plan, "box front");
    assert_int_equal(part_with(plan, cut)->length, 13 * DW_INCH);
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_CUT, cut, 0), DW_DONE);
    const struct dw_plan *again = bench_plan(bench, bench_job(bench, two_boxes, "shop.materials[1].thickness=15/32"), NULL, plan->plan_id);
    assert_non_null(again);
    size_t fronts = 0;
    for (size_t p = 0; p < again->part_count; p++)
        if (strcmp(again->parts[p].name, "box front") == 0 || strcmp(again->parts[p].name, "back") == 0) {
            assert_int_equal(again->parts[p].length, 13 * DW_INCH + DW_INCH / 16);
            fronts += again->parts[p].count;
        }
    assert_true(fronts > 0);
    assert_null(part_with(again, cut));
    assert_true(bench_has_code(bench, "cut-differs"));
    for (size_t i = 0; i < bench->faults->count; i++)
        if (strcmp(bench->faults->at[i].code, "cut-differs") == 0)
            assert_non_null(strstr(bench->faults->at[i].cure, "A-1.1BK")); /* its box is still to be cut, and to other sizes */
    assert_int_equal(bench_enter(bench, again), DW_DONE);
    const struct dw_progress *entered = bench_progress(bench, again->plan_id);
    const struct dw_made_piece *made = made_with(entered, cut); /* the cut that freed it may have freed its neighbor, too */
    assert_non_null(strstr(made->changed, "13 1/16"));
    assert_int_equal(made->piece.length, 13 * DW_INCH);
    struct dw_run_changes changes;
    bool told = false;
    bool measured = false;
    const struct dw_progress *progress = bench_progress(bench, plan->plan_id);
    assert_int_equal(dw_run_changes(plan, again, progress, DW_IN, 2, bench->arena, bench->faults, &changes), DW_DONE);
    for (size_t i = 0; i < changes.count; i++) {
        told = told || strncmp(changes.lines[i], "box front 13 x", 14) == 0;
        measured = measured || strcmp(changes.lines[i], "ply 1/2 measures 1/2 -> 15/32") == 0;
    }
    assert_true(told);
    assert_true(measured);
}

static bool has_line(const struct dw_run_changes *changes, const char *beginning)
{
    for (size_t i = 0; i < changes->count; i++)
        if (strncmp(changes->lines[i], beginning, strlen(beginning)) == 0)
            return true;
    return false;
}

/* The same as above before anything is planned: what is cut is warned about and not among the changes. And the ledger alone tells the same. */
static void test_what_a_measure_changes_is_told_beforehand(void **state)
{
    struct bench *bench = *state;
    const struct dw_job *jobs[] = {bench_job(bench, two_boxes, NULL), bench_job(bench, two_boxes, "shop.materials[1].thickness=15/32")};
    const struct dw_plan *plan = enter_new(bench, jobs[0]);
    const char *cut = first_piece(plan, "box front");
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_CUT, cut, 0), DW_DONE);
    const struct dw_progress *progress = bench_progress(bench, plan->plan_id);
    struct dw_run lines[2];
    for (int i = 0; i < 2; i++)
        assert_int_equal(dw_run_jobs(&jobs[i], 1, DW_STAGE_PARTS, NULL, NULL, bench->arena, bench->faults, &lines[i]), DW_DONE);
    const struct dw_run_rest rest = {.cut = progress->cut, .cut_count = progress->cut_count};
    struct dw_run_changes changes;
    assert_int_equal(dw_run_size_changes(lines[0].parts[0], lines[1].parts[0], &rest, bench->arena, bench->faults, &changes), DW_DONE);
    assert_true(has_line(&changes, "ply 1/2 measures 1/2 -> 15/32"));
    assert_true(has_line(&changes, "box front 13 x"));
    for (size_t i = 0; i < changes.count; i++)
        assert_null(strstr(changes.lines[i], cut));
    assert_true(bench_has_code(bench, "cut-differs"));

    const struct dw_plan *again = bench_plan(bench, jobs[1], NULL, plan->plan_id);
    const struct dw_plan *known = NULL;
    struct dw_run_changes by_file;
    assert_int_equal(dw_run_plan_entered(&progress->plan, bench->arena, bench->faults, &known), DW_DONE);
    assert_int_equal(dw_run_changes(plan, again, progress, DW_IN, 2, bench->arena, bench->faults, &by_file), DW_DONE);
    assert_int_equal(dw_run_changes(known, again, progress, DW_IN, 2, bench->arena, bench->faults, &changes), DW_DONE);
    assert_true(has_line(&changes, "sheets of ply 1/2 to buy: 1 -> 0"));
    for (size_t i = 0; i < by_file.count; i++)
        assert_true(strncmp(by_file.lines[i], "money", 5) == 0 || has_line(&changes, by_file.lines[i]));
}

/* A damaged end is kept out of the next plan. */
static void test_a_damaged_edge_is_kept_out(void **state)
{
    struct bench *bench = *state;
    const struct dw_job *job = bench_job(bench, eight_boxes, NULL);
    const struct dw_plan *plan = enter_new(bench, job);
    const struct dw_mark damage = {.kind = DW_MARK_DAMAGED, .target = first_sheet(plan), .edge = 2, .depth = 5 * DW_INCH};
    assert_int_equal(dw_progress_mark(bench->rack, plan->plan_id, &damage, bench->faults), DW_DONE);
    const struct dw_plan *again = bench_plan(bench, job, NULL, plan->plan_id);
    assert_non_null(again);
    assert_int_equal(again->total, 0);
    assert_int_equal(again->materials[0].sheet_count, 1);
    assert_int_equal(again->materials[0].sheets[0].root.y, 5 * DW_INCH);
    assert_int_equal(again->materials[0].sheets[0].root.width, 48 * DW_INCH - 5 * DW_INCH - DW_INCH / 4);
    const struct dw_mark whole = {.kind = DW_MARK_DAMAGED, .target = first_sheet(plan), .edge = 2, .depth = 48 * DW_INCH};
    assert_int_equal(dw_progress_mark(bench->rack, plan->plan_id, &whole, bench->faults), DW_IMPOSSIBLE);
    assert_string_equal(bench_code(bench), "too-deep");
}

/* What is noted of a sheet stands beside it in the plans that follow, and beside what comes off it. */
static void test_a_note_stays_with_its_sheet(void **state)
{
    struct bench *bench = *state;
    const struct dw_job *job = bench_job(bench, eight_boxes, NULL);
    const struct dw_plan *plan = enter_new(bench, job);
    const struct dw_mark note = {.kind = DW_MARK_NOTE, .target = first_sheet(plan), .note = "better face up"};
    assert_int_equal(dw_progress_mark(bench->rack, plan->plan_id, &note, bench->faults), DW_DONE);
    for (int round = 0; round < 2; round++) {
        plan = bench_plan(bench, job, NULL, plan->plan_id);
        assert_non_null(plan);
        const struct dw_material_layout *layout = &bench->run.purchase->layouts->materials[0];
        assert_string_equal(layout->problem->sources[layout->sheets[0].source].note, "better face up");
        assert_int_equal(bench_enter(bench, plan), DW_DONE);
    }
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SHEET, first_sheet(plan), 1), DW_DONE);
    assert_string_equal(bench_progress(bench, plan->plan_id)->left[0].note, "better face up");
}

static const char *name_of_source(const struct dw_plan *plan, const char *source)
{
    for (size_t s = 0; s < plan->materials[0].sheet_count; s++)
        if (strcmp(plan->materials[0].sources[plan->materials[0].sheets[s].source].sheet, source) == 0)
            return plan->materials[0].sheets[s].name;
    return "";
}

/* Three sheets, a piece of each; S1 is cut, and its piece spoiled. S2 and S3 are called so in the plan that follows, and the sheet that is bought for the
 * spoiled one is S4, because what is left of S1 is still called S1-off1. */
static void test_chalk_on_a_sheet_holds(void **state)
{
    struct bench *bench = *state;
    char source[32];
    static const char three[] = "{\"format\": 1, \"units\": \"in\", \"shop\": {\"materials\": [{\"id\": \"ply\", \"thickness\": \"1/2\", \"sheets\": [{\"id\": \"4x8\","
                                " \"length\": 96, \"width\": 48, \"price\": \"60.00\"}]}]}, \"parts\": [{\"name\": \"a\", \"material\": \"ply\", \"length\": 90, \"width\": 38,"
                                " \"count\": 3}]}";
    const struct dw_job *job = bench_job(bench, three, NULL);
    const struct dw_plan *plan = enter_new(bench, job);
    const struct dw_progress *progress = bench_progress(bench, plan->plan_id);
    const char *piece = "";
    for (size_t i = 0; i < progress->plan.panel_count; i++)
        if (progress->plan.panels[i].use == DW_PANEL_PIECE && strcmp(progress->plan.panels[i].sheet, "S1") == 0)
            piece = progress->plan.panels[i].name;
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SHEET, "S1", progress->plan.passes[progress->plan.pass_count - 1].step), DW_DONE);
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SPOILED, piece, 0), DW_DONE);
    const struct dw_plan *again = bench_plan(bench, job, NULL, plan->plan_id);
    assert_non_null(again);
    assert_int_equal(again->materials[0].sheet_count, 3);
    for (int number = 2; number <= 3; number++) {
        (void)snprintf(source, sizeof source, "%s/S%d", plan->plan_id, number);
        assert_string_equal(name_of_source(again, source), source + strlen(plan->plan_id) + 1);
    }
    assert_string_equal(name_of_source(again, "4x8"), "S4");
    assert_int_equal(bench_enter(bench, again), DW_DONE);
}

/* ---- phases ----------------------------------------------------------------------------------------------- */

static void test_boxes_first_then_fronts(void **state)
{
    struct bench *bench = *state;
    const struct dw_job *job = bench_job(bench, two_boxes, NULL);
    const size_t all = pieces_of(bench_plan(bench, job, NULL, NULL));
    const struct dw_plan *boxes = bench_plan(bench, job, "boxes", NULL);
    for (size_t p = 0; p < boxes->part_count; p++)
        assert_string_not_equal(boxes->parts[p].name, "front");
    assert_int_equal(pieces_of(boxes), 10); /* two sides, front, back and bottom, twice */
    assert_int_equal(bench_enter(bench, boxes), DW_DONE);
    bench_cut_all(bench, boxes->plan_id);
    /* Measured after building: 14 15/16 wide. The boxes stay as they are, the fronts follow the opening. */
    const struct dw_plan *fronts =
        bench_plan(bench, bench_job(bench, two_boxes, "cases[0].opening.width=[\"15\", \"14 15/16\"]"), "fronts", boxes->plan_id);
    assert_non_null(fronts);
    assert_int_equal(pieces_of(fronts), all - 10);
    assert_int_equal(dw_most(fronts->parts[0].length, fronts->parts[0].width), 14 * DW_INCH + 11 * DW_INCH / 16); /* less 1/8 on each side */
    assert_true(bench_has_code(bench, "cut-differs"));
    assert_null(bench_plan(bench, job, "Case/9", NULL));
    assert_string_equal(bench_code(bench), "nothing-left");
    assert_int_equal(pieces_of(bench_plan(bench, job, "Case/1/1", NULL)), 6);
}

/* Drawn 15 + 2 x 3/4 wide, built, measured 15 1/16: fronts with 1/8 at each side go from 14 3/4 to 14 13/16, and the list of changes says so. The case's own
 * parts, cut as drawn, are as wanted. */
static void test_the_opening_as_built(void **state)
{
    static const char drawn[] =
        "{\"format\": 1, \"name\": \"Drawn\", \"units\": \"in\", " TEST_SHOP ", \"cases\": [{\"name\": \"Case\", \"outside\": {\"width\": \"16 1/2\","
        " \"height\": 14, \"depth\": 20}, \"members\": {\"material\": \"ply 3/4\", \"back\": 0, \"parts\": true}, \"slide\": \"side\", \"fit\": \"inset\","
        " \"front\": {\"material\": \"ply 3/4\"}, \"box\": {\"sides\": \"ply 1/2\", \"bottom\": \"ply 1/4\", \"joint\": \"butt\"},"
        " \"banks\": [{\"drawers\": [{}, {}]}]}]}";
    struct bench *bench = *state;
    const struct dw_plan *built = bench_plan(bench, bench_job(bench, drawn, NULL), "case", NULL);
    struct dw_run_changes changes;
    bool told = false;
    assert_non_null(built);
    assert_int_equal(bench_enter(bench, built), DW_DONE);
    bench_cut_all(bench, built->plan_id);
    const struct dw_plan *after = bench_plan(bench, bench_job(bench, drawn, "cases[0].opening.width=[\"15 1/8\", \"15 1/16\"]"), NULL, built->plan_id);
    assert_non_null(after);
    assert_false(bench_has_code(bench, "cut-differs"));
    assert_int_equal(part_with(after, first_piece(after, "front"))->length, 14 * DW_INCH + 13 * DW_INCH / 16);
    assert_int_equal(dw_run_changes(built, after, bench_progress(bench, built->plan_id), DW_IN, 2, bench->arena, bench->faults, &changes), DW_DONE);
    for (size_t i = 0; i < changes.count; i++)
        told = told || (strncmp(changes.lines[i], "front 14 3/4 x", 14) == 0 && strstr(changes.lines[i], "-> 14 13/16 x") != NULL);
    assert_true(told);
}

static const struct dw_goods *goods_with(const struct dw_plan *plan, const char *id)
{
    for (size_t i = 0; i < plan->goods_count; i++)
        if (strcmp(plan->goods[i].id, id) == 0)
            return &plan->goods[i];
    fail_msg("no goods are called %s", id);
    return NULL;
}

/* Two pairs of slides of 18 in are bought with the first plan, and once: while they are wanted a plan that follows has none of them on its list. When
 * the case turns out 17 in deep it is two pairs of 14 that are still to buy, and the two of 18 are over; the plan after that knows of both. */
static void test_hardware_is_bought_once(void **state)
{
    struct bench *bench = *state;
    struct dw_run_changes changes;
    const struct dw_job *job = bench_job(bench, two_boxes, NULL);
    const struct dw_plan *first = enter_new(bench, job);
    assert_int_equal(goods_with(first, "side 18 in")->bought, 2);
    assert_int_equal(bench_mark(bench, first->plan_id, DW_MARK_SPOILED, first_sheet(first), 0), DW_DONE);
    const struct dw_plan *second = bench_plan(bench, job, NULL, first->plan_id);
    assert_int_equal(goods_with(second, "side 18 in")->bought, 2);
    for (size_t i = 0; i < bench->run.purchase->line_count; i++)
        assert_int_not_equal(bench->run.purchase->lines[i].material, DW_NO_INDEX);
    assert_int_equal(bench_enter(bench, second), DW_DONE);
    const struct dw_job *shallow = bench_job(bench, two_boxes, "cases[0].opening.depth=17");
    const struct dw_plan *third = bench_plan(bench, shallow, NULL, second->plan_id);
    assert_int_equal(goods_with(third, "side 14 in")->bought, 2);
    assert_int_equal(goods_with(third, "side 18 in")->wanted, 0);
    assert_int_equal(goods_with(third, "side 18 in")->bought, 2);
    bool bought = false;
    bool over = false;
    assert_int_equal(dw_run_changes(second, third, NULL, DW_IN, 2, bench->arena, bench->faults, &changes), DW_DONE);
    for (size_t i = 0; i < changes.count; i++) {
        bought = bought || strcmp(changes.lines[i], "still to buy: 2 x side, 14 in, pair (2 wanted, 0 bought before)") == 0;
        over = over || strcmp(changes.lines[i], "bought and not wanted any more: 2 x side, 18 in, pair") == 0;
    }
    assert_true(bought && over);
    assert_int_equal(bench_enter(bench, third), DW_DONE);
    const struct dw_plan *fourth = bench_plan(bench, job, NULL, third->plan_id);
    assert_int_equal(goods_with(fourth, "side 18 in")->wanted, 2); /* wanted again, and still there */
    assert_int_equal(goods_with(fourth, "side 18 in")->bought, 2);
}

/* ---- plans that replace plans ----------------------------------------------------------------------------- */

static void test_an_outdated_plan_is_recognized(void **state)
{
    struct bench *bench = *state;
    const struct dw_job *job = bench_job(bench, eight_boxes, NULL);
    const struct dw_plan *plan = enter_new(bench, job);
    const char *side = first_piece(plan, "side");
    assert_string_equal(bench_progress(bench, plan->plan_id)->replaced_by, "");
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SPOILED, first_sheet(plan), 0), DW_DONE);
    const struct dw_plan *again = bench_plan(bench, job, NULL, plan->plan_id);
    const struct dw_plan *other = bench_plan(bench, job, "extras", plan->plan_id);
    assert_string_not_equal(again->plan_id, plan->plan_id); /* the same work planned again has another mark */
    assert_int_equal(bench_enter(bench, again), DW_DONE);
    assert_int_equal(bench_enter(bench, again), DW_DONE);   /* twice is once */
    assert_string_equal(bench_progress(bench, plan->plan_id)->replaced_by, again->plan_id);
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_CUT, side, 0), DW_IMPOSSIBLE);
    assert_string_equal(bench_code(bench), "plan-replaced");
    assert_string_equal(other->plan_id, again->plan_id);    /* what is the same is the same plan */
    assert_int_equal(dw_progress_undo(bench->rack, again->plan_id, bench->arena, bench->faults, NULL), DW_DONE);
    assert_string_equal(bench_progress(bench, plan->plan_id)->replaced_by, "");
    assert_int_equal(dw_progress_undo(bench->rack, plan->plan_id, bench->arena, bench->faults, NULL), DW_DONE);
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_CUT, side, 0), DW_DONE);
    assert_int_equal(bench_enter(bench, again), DW_IMPOSSIBLE);
    assert_string_equal(bench_code(bench), "worked-since");
    const struct dw_progress *unknown = NULL;
    assert_int_equal(dw_progress_read(bench->rack, "ZZZZZZ", bench->arena, bench->faults, &unknown), DW_IMPOSSIBLE);
    assert_null(unknown);
}

static void test_a_piece_of_an_earlier_plan_is_spoiled(void **state)
{
    struct bench *bench = *state;
    const struct dw_job *job = bench_job(bench, eight_boxes, NULL);
    const struct dw_plan *plan = enter_new(bench, job);
    const char *side = first_piece(plan, "side");
    const char *end = first_piece(plan, "end");
    bench_cut_all(bench, plan->plan_id);
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SPOILED, side, 0), DW_DONE);
    const struct dw_plan *again = bench_plan(bench, job, NULL, plan->plan_id);
    assert_int_equal(bench_enter(bench, again), DW_DONE);
    assert_int_equal(bench_mark(bench, again->plan_id, DW_MARK_SPOILED, end, 0), DW_DONE); /* dropped at the glue-up */
    assert_false(is_cut(bench_progress(bench, again->plan_id), end));
    assert_int_equal(bench_mark(bench, again->plan_id, DW_MARK_SPOILED, end, 0), DW_IMPOSSIBLE);
    const struct dw_plan *third = bench_plan(bench, job, NULL, again->plan_id);
    assert_non_null(part_with(third, end));
    assert_non_null(part_with(third, side));
    assert_int_equal(pieces_of(third), 2);
    assert_int_equal(bench_enter(bench, third), DW_DONE);
    bench_cut_all(bench, third->plan_id);
    assert_int_equal(bench_progress(bench, third->plan_id)->cut_count, 32);
}

static void test_marks_are_taken_back_one_by_one(void **state)
{
    struct bench *bench = *state;
    struct dw_mark undone;
    const struct dw_plan *plan = enter_new(bench, bench_job(bench, eight_boxes, NULL));
    const char *side = first_piece(plan, "side");
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_CUT, side, 0), DW_DONE);
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SPOILED, side, 0), DW_DONE);
    assert_int_equal(dw_progress_undo(bench->rack, plan->plan_id, bench->arena, bench->faults, &undone), DW_DONE);
    assert_int_equal(undone.kind, DW_MARK_SPOILED);
    assert_true(is_cut(bench_progress(bench, plan->plan_id), side));
    assert_int_equal(dw_progress_undo(bench->rack, plan->plan_id, bench->arena, bench->faults, &undone), DW_DONE);
    assert_int_equal(undone.kind, DW_MARK_CUT);
    assert_int_equal(bench_progress(bench, plan->plan_id)->cut_count, 0);
    assert_int_equal(bench_progress(bench, plan->plan_id)->history_count, 3);
    assert_int_equal(dw_progress_undo(bench->rack, plan->plan_id, bench->arena, bench->faults, &undone), DW_DONE);
    assert_int_equal(undone.kind, DW_MARK_ENTERED);
    assert_int_equal(dw_progress_undo(bench->rack, plan->plan_id, bench->arena, bench->faults, &undone), DW_IMPOSSIBLE);
    assert_int_equal(bench_enter(bench, plan), DW_DONE);
    assert_int_equal(bench_progress(bench, plan->plan_id)->cut_count, 0);
}

/* The last plan is entered in the rack for all that it replaced. */
static size_t piece_number(const struct dw_progress *progress, const char *mark)
{
    for (size_t i = 0; i < progress->plan.piece_count; i++)
        if (strcmp(progress->plan.pieces[i].mark, mark) == 0)
            return i;
    fail_msg("no piece is called %s", mark);
    return 0;
}

/* Any mark may be taken back, as long as those behind it still mean the same. */
static void test_one_mark_is_taken_back_by_its_number(void **state)
{
    struct bench *bench = *state;
    const struct dw_plan *plan = enter_new(bench, bench_job(bench, eight_boxes, NULL));
    const char *mark = plan->plan_id;
    const char *side = plan->parts[0].pieces[0];
    const char *end = plan->parts[1].pieces[0];
    assert_int_equal(bench_mark(bench, mark, DW_MARK_SHEET, first_sheet(plan), 2), DW_DONE); /* the strips are ripped */
    assert_int_equal(bench_mark(bench, mark, DW_MARK_CUT, side, 0), DW_DONE);
    assert_int_equal(bench_mark(bench, mark, DW_MARK_SPOILED, end, 0), DW_DONE);
    const struct dw_progress *progress = bench_progress(bench, mark);
    const int64_t cut = progress->since[piece_number(progress, side)];
    const int64_t spoiled = progress->since[piece_number(progress, end)];
    assert_int_equal(spoiled, progress->last);
    assert_int_equal(cut, spoiled - 1);
    assert_int_equal(dw_progress_take_back(bench->rack, mark, cut, bench->faults), DW_DONE);
    progress = bench_progress(bench, mark);
    assert_int_equal(progress->states[piece_number(progress, end)], DW_PIECE_SPOILED);
    assert_int_equal(dw_progress_take_back(bench->rack, mark, cut, bench->faults), DW_IMPOSSIBLE);
    assert_string_equal(bench_code(bench), "no-mark");
    assert_int_equal(dw_progress_take_back(bench->rack, mark, progress->history[0].number, bench->faults), DW_IMPOSSIBLE); /* the plan itself */
    assert_int_equal(dw_progress_take_back(bench->rack, mark, spoiled, bench->faults), DW_DONE);
    progress = bench_progress(bench, mark);
    for (size_t i = 0; i < progress->plan.piece_count; i++)
        assert_int_equal(progress->states[i], DW_PIECE_TO_CUT);
}

/* "What is left of the strip is spoiled" names another panel when the piece before it was not cut. */
static void test_a_mark_that_others_build_on_stays(void **state)
{
    struct bench *bench = *state;
    const struct dw_plan *plan = enter_new(bench, bench_job(bench, eight_boxes, NULL));
    const struct dw_progress *progress = bench_progress(bench, plan->plan_id);
    const struct dw_work_pass *pass = NULL;
    for (size_t i = 0; i < progress->plan.pass_count && pass == NULL; i++) {
        const struct dw_work_pass *at = &progress->plan.passes[i];
        if (at->off != DW_NO_PANEL && at->rest != DW_NO_PANEL && progress->plan.panels[at->off].use == DW_PANEL_PIECE &&
            strcmp(progress->plan.panels[at->rest].name, progress->plan.panels[at->panel].name) == 0)
            pass = at;
    }
    assert_non_null(pass);
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_CUT, progress->plan.panels[pass->off].name, 0), DW_DONE);
    const int64_t cut = bench_progress(bench, plan->plan_id)->last;
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SPOILED, progress->plan.panels[pass->rest].name, 0), DW_DONE);
    assert_int_equal(dw_progress_take_back(bench->rack, plan->plan_id, cut, bench->faults), DW_IMPOSSIBLE);
    assert_string_equal(bench_code(bench), "built-on");
    assert_int_equal(dw_progress_take_back(bench->rack, plan->plan_id, cut + 1, bench->faults), DW_DONE);
    assert_int_equal(dw_progress_take_back(bench->rack, plan->plan_id, cut, bench->faults), DW_DONE);
}

static void test_plans_are_listed(void **state)
{
    struct bench *bench = *state;
    const struct dw_job *job = bench_job(bench, eight_boxes, NULL);
    struct dw_entered_plans plans;
    assert_int_equal(dw_progress_plans(bench->rack, bench->arena, bench->faults, &plans), DW_DONE);
    assert_int_equal(plans.count, 0);
    const struct dw_plan *plan = enter_new(bench, job);
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SPOILED, first_sheet(plan), 0), DW_DONE);
    const struct dw_plan *again = bench_plan(bench, job, NULL, plan->plan_id);
    assert_int_equal(bench_enter(bench, again), DW_DONE);
    assert_int_equal(dw_progress_plans(bench->rack, bench->arena, bench->faults, &plans), DW_DONE);
    assert_int_equal(plans.count, 2);
    assert_string_equal(plans.at[0].mark, plan->plan_id);
    assert_string_equal(plans.at[0].jobs, "test");
    assert_string_equal(plans.at[0].replaced_by, again->plan_id);
    assert_string_equal(plans.at[1].follows, plan->plan_id);
    assert_string_equal(plans.at[1].replaced_by, "");
    assert_int_equal(strlen(plans.at[1].when), strlen("2031-05-04 09:12:00"));
    assert_int_equal(dw_progress_undo(bench->rack, again->plan_id, bench->arena, bench->faults, NULL), DW_DONE);
    assert_int_equal(dw_progress_plans(bench->rack, bench->arena, bench->faults, &plans), DW_DONE);
    assert_int_equal(plans.count, 1);
}

static void test_the_last_plan_is_posted_for_all(void **state)
{
    struct bench *bench = *state;
    const struct dw_job *job = bench_job(bench, eight_boxes, NULL);
    const struct dw_plan *plan = enter_new(bench, job);
    struct dw_posting posting;
    bench_cut_all(bench, plan->plan_id);
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SPOILED, first_piece(plan, "side"), 0), DW_DONE);
    const struct dw_plan *again = bench_plan(bench, job, NULL, plan->plan_id);
    assert_int_equal(bench_enter(bench, again), DW_DONE);
    assert_int_equal(dw_run_posting_all(again, bench_progress(bench, again->plan_id), bench->arena, bench->faults, &posting), DW_DONE);
    assert_int_equal(posting.used_count, 0); /* a sheet was bought, and nothing taken from the rack */
    bool kept = false;
    for (size_t i = 0; i < posting.kept_count; i++)
        kept = kept || (posting.kept[i].width == 19 * DW_INCH + 3 * DW_INCH / 4 && posting.kept[i].length == 95 * DW_INCH + DW_INCH / 2);
    assert_true(kept);
    assert_int_equal(dw_rack_post(bench->rack, &posting, bench->faults), DW_DONE);
    assert_true(bench_progress(bench, again->plan_id)->posted);
}

/* ---- a chain, the rack and back ---------------------------------------------------------------------------- */

static bool is_racked(struct bench *bench, const char *id, dw_length length, dw_length width)
{
    struct dw_offcuts offcuts;
    assert_int_equal(dw_rack_list(bench->rack, NULL, bench->arena, bench->faults, &offcuts), DW_DONE);
    for (size_t i = 0; i < offcuts.count; i++)
        if ((id == NULL || strcmp(offcuts.at[i].id, id) == 0) && offcuts.at[i].length == length && offcuts.at[i].width == width)
            return true;
    return false;
}

static size_t racked_count(struct bench *bench)
{
    struct dw_offcuts offcuts;
    assert_int_equal(dw_rack_list(bench->rack, NULL, bench->arena, bench->faults, &offcuts), DW_DONE);
    return offcuts.count;
}

static void add_offcut(struct bench *bench, dw_length length, dw_length width)
{
    const struct dw_offcut offcut = {.material = "ply", .length = length, .width = width, .value = 500, .origin = "by hand"};
    int64_t number = 0;
    assert_int_equal(dw_rack_add(bench->rack, &offcut, bench->faults, &number), DW_DONE);
}

/* By hand. The rack holds R1, 50 x 12, and R2, 50 x 30, and one part of 40 x 10 is wanted. The first plan takes R1, the lesser. Its end turns out rotten for
 * 20 in: the 30 left are too short, so the second plan takes R2. When that is cut and posted R1 and R2 are out, and in are 30 x 12 of R1 and what is kept of
 * R2. Taken back, all is as it was. */
static void test_a_chain_is_posted(void **state)
{
    struct bench *bench = *state;
    static const char one[] = "{\"format\": 1, \"name\": \"One\", \"units\": \"in\", \"shop\": {\"materials\": [{\"id\": \"ply\", \"thickness\": \"1/2\", \"sheets\": [{\"id\": \"4x8\","
                              " \"length\": 96, \"width\": 48, \"price\": \"60.00\"}]}]}, \"parts\": [{\"name\": \"a\", \"material\": \"ply\", \"length\": 40, \"width\": 10}]}";
    const struct dw_job *job = bench_job(bench, one, NULL);
    const struct dw_mark damage = {.kind = DW_MARK_DAMAGED, .target = "S1", .edge = 1, .depth = 20 * DW_INCH};
    struct dw_posting posting;
    add_offcut(bench, 50 * DW_INCH, 12 * DW_INCH);
    add_offcut(bench, 50 * DW_INCH, 30 * DW_INCH);
    bench->use_rack = true;
    const struct dw_plan *first = enter_new(bench, job);
    assert_string_equal(first->materials[0].sources[first->materials[0].sheets[0].source].rack_id, "R1");
    assert_int_equal(dw_progress_mark(bench->rack, first->plan_id, &damage, bench->faults), DW_DONE);
    const struct dw_plan *second = bench_plan(bench, job, NULL, first->plan_id);
    assert_non_null(second);
    assert_string_equal(second->materials[0].sources[second->materials[0].sheets[0].source].rack_id, "R2");
    assert_int_equal(bench_enter(bench, second), DW_DONE);
    bench_cut_all(bench, second->plan_id);
    assert_int_equal(dw_run_posting_known(bench->rack, second, bench->arena, bench->faults, &posting), DW_DONE);
    assert_int_equal(dw_rack_post(bench->rack, &posting, bench->faults), DW_DONE);
    assert_false(is_racked(bench, "R1", 50 * DW_INCH, 12 * DW_INCH));
    assert_true(is_racked(bench, NULL, 30 * DW_INCH, 12 * DW_INCH));
    assert_false(is_racked(bench, "R2", 50 * DW_INCH, 30 * DW_INCH));
    const struct dw_progress *progress = bench_progress(bench, second->plan_id);
    size_t kept = 0;
    for (size_t i = 0; i < progress->left_count; i++)
        if (progress->left[i].panel.use == DW_PANEL_KEEP) {
            assert_true(is_racked(bench, NULL, progress->left[i].panel.length, progress->left[i].panel.width));
            kept++;
        }
    assert_true(kept > 0);
    assert_int_equal(racked_count(bench), kept + 1);
    assert_int_equal(dw_rack_post(bench->rack, &posting, bench->faults), DW_IMPOSSIBLE);
    assert_int_equal(dw_rack_undo(bench->rack, second->plan_id, bench->faults), DW_DONE);
    assert_int_equal(racked_count(bench), 2);
    assert_true(is_racked(bench, "R1", 50 * DW_INCH, 12 * DW_INCH) && is_racked(bench, "R2", 50 * DW_INCH, 30 * DW_INCH));
    assert_false(bench_progress(bench, second->plan_id)->posted);
}

/* The first plan counts on R1; the job then wants a part that R1 does not hold. R1 is not cut, so it is R1 still when the second plan is posted. */
static void test_an_offcut_that_is_not_cut_stays(void **state)
{
    struct bench *bench = *state;
    static const char one[] = "{\"format\": 1, \"units\": \"in\", \"shop\": {\"materials\": [{\"id\": \"ply\", \"thickness\": \"1/2\", \"sheets\": [{\"id\": \"4x8\","
                              " \"length\": 96, \"width\": 48, \"price\": \"60.00\"}]}]}, \"parts\": [{\"name\": \"a\", \"material\": \"ply\", \"length\": 40, \"width\": 10}]}";
    struct dw_posting posting;
    add_offcut(bench, 50 * DW_INCH, 12 * DW_INCH);
    bench->use_rack = true;
    const struct dw_plan *first = enter_new(bench, bench_job(bench, one, NULL));
    assert_string_equal(bench_progress(bench, first->plan_id)->left[0].racked, "R1");
    const struct dw_plan *second = bench_plan(bench, bench_job(bench, one, "parts[0].width=14"), NULL, first->plan_id);
    assert_non_null(second);
    assert_int_equal(bench_enter(bench, second), DW_DONE);
    bench_cut_all(bench, second->plan_id);
    assert_int_equal(dw_run_posting_known(bench->rack, second, bench->arena, bench->faults, &posting), DW_DONE);
    assert_int_equal(posting.used_count, 0);
    assert_int_equal(dw_rack_post(bench->rack, &posting, bench->faults), DW_DONE);
    assert_true(is_racked(bench, "R1", 50 * DW_INCH, 12 * DW_INCH));
}

/* What is spoiled does not come into the rack; what is not cut yet does, as it will be. */
static void test_what_is_spoiled_is_not_posted(void **state)
{
    struct bench *bench = *state;
    struct dw_posting all, part;
    const struct dw_plan *plan = enter_new(bench, bench_job(bench, eight_boxes, NULL));
    assert_int_equal(dw_run_posting_known(bench->rack, plan, bench->arena, bench->faults, &all), DW_DONE);
    assert_int_equal(all.kept_count, 1); /* the rest of the sheet, 24 3/8 wide */
    assert_int_equal(all.kept[0].width, 24 * DW_INCH + 3 * DW_INCH / 8);
    assert_int_equal(bench_mark(bench, plan->plan_id, DW_MARK_SPOILED, first_sheet(plan), 0), DW_DONE);
    assert_int_equal(dw_run_posting_known(bench->rack, plan, bench->arena, bench->faults, &part), DW_DONE);
    assert_int_equal(part.kept_count, 0);
}

/* ---- the file --------------------------------------------------------------------------------------------- */

static void test_the_ledger_of_before_is_taken_along(void **state)
{
    struct bench *bench = *state;
    struct dw_offcuts offcuts;
    sqlite3 *database = NULL;
    int64_t number = 0;
    const struct dw_offcut offcut = {.material = "ply", .length = 20 * DW_INCH, .width = 9 * DW_INCH, .value = 100, .origin = ""};
    assert_int_equal(dw_rack_add(bench->rack, &offcut, bench->faults, &number), DW_DONE);
    dw_rack_close(bench->rack);
    bench->rack = NULL;
    assert_int_equal(sqlite3_open(bench->path, &database), SQLITE_OK); /* as version 1 had it */
    assert_int_equal(sqlite3_exec(database, "DROP VIEW working; DROP TABLE work_piece; DROP TABLE work_panel; DROP TABLE work_pass; DROP TABLE mark;"
                                            " DROP TABLE work_goods; DROP TABLE work; PRAGMA user_version = 1", NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_close(database), SQLITE_OK);
    assert_int_equal(dw_rack_open(bench->path, bench->faults, &bench->rack), DW_DONE);
    assert_int_equal(dw_rack_list(bench->rack, NULL, bench->arena, bench->faults, &offcuts), DW_DONE);
    assert_int_equal(offcuts.count, 1);
    (void)enter_new(bench, bench_job(bench, eight_boxes, NULL));
}

static void test_history_is_only_added_to(void **state)
{
    static const char *const changes[] = {"DELETE FROM mark", "UPDATE mark SET what = 1", "DELETE FROM work", "UPDATE work_panel SET length = 1",
                                          "DELETE FROM work_pass", "UPDATE work_piece SET length = 1"};
    struct bench *bench = *state;
    sqlite3 *database = NULL;
    const struct dw_plan *plan = enter_new(bench, bench_job(bench, eight_boxes, NULL));
    assert_int_equal(sqlite3_open(bench->path, &database), SQLITE_OK);
    for (size_t i = 0; i < sizeof changes / sizeof *changes; i++)
        assert_int_not_equal(sqlite3_exec(database, changes[i], NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_close(database), SQLITE_OK);
    assert_int_equal(bench_progress(bench, plan->plan_id)->history_count, 1);
}

static void test_failing_memory(void **state)
{
    struct bench *bench = *state;
    const struct dw_plan *plan = enter_new(bench, bench_job(bench, two_boxes, NULL));
    const struct dw_mark mark = {.kind = DW_MARK_NOTE, .target = first_sheet(plan), .note = "good face up"};
    bool whole = false;
    for (size_t n = 1; !whole; n++) {
        struct dw_arena *arena = dw_arena_new();
        struct dw_faults *faults = dw_faults_new();
        const struct dw_progress *progress = NULL;
        const struct dw_owned *owned = NULL;
        struct dw_work_plan work;
        struct dw_run_changes changes;
        struct dw_entered_plans plans;
        const struct dw_plan *known = NULL;
        struct dw_run_rest rest = {.only_count = 0};
        struct dw_layout_options options = {.threads = 1};
        size_t count = 0;
        (void)dw_memory_fail_at(n);
        whole = dw_progress_read(bench->rack, plan->plan_id, arena, faults, &progress) == DW_DONE && dw_run_work(plan, arena, faults, &work) == DW_DONE &&
                dw_run_left(progress, arena, faults, &owned, &count) == DW_DONE &&
                dw_progress_plans(bench->rack, arena, faults, &plans) == DW_DONE &&
                dw_run_plan_entered(&progress->plan, arena, faults, &known) == DW_DONE && dw_run_only("boxes,Case/2", arena, faults, &rest) == DW_DONE &&
                dw_run_follow(progress, arena, faults, &rest, &options) == DW_DONE &&
                dw_run_use_rack(bench->rack, progress, arena, faults, &options) == DW_DONE &&
                dw_run_changes(plan, plan, progress, DW_IN, 2, arena, faults, &changes) == DW_DONE &&
                dw_progress_enter(bench->rack, &work, faults) == DW_DONE && dw_progress_mark(bench->rack, plan->plan_id, &mark, faults) == DW_DONE;
        (void)dw_memory_fail_at(0);
        assert_int_equal(whole ? DW_DONE : DW_SURROUNDINGS, whole ? DW_DONE : faults->status);
        dw_faults_free(faults);
        dw_arena_free(arena);
        assert_true(n < 5000);
    }
    assert_int_equal(bench_progress(bench, plan->plan_id)->history_count, 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_one_side_spoiled, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_rough_edges_are_not_used, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_a_sheet_half_way, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_one_piece_tells_of_its_strip, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_a_name_means_what_lies_there, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_plywood_turns_out_thinner, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_a_damaged_edge_is_kept_out, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_a_note_stays_with_its_sheet, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_chalk_on_a_sheet_holds, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_boxes_first_then_fronts, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_hardware_is_bought_once, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_the_opening_as_built, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_an_outdated_plan_is_recognized, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_a_piece_of_an_earlier_plan_is_spoiled, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_marks_are_taken_back_one_by_one, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_one_mark_is_taken_back_by_its_number, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_a_mark_that_others_build_on_stays, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_plans_are_listed, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_what_a_measure_changes_is_told_beforehand, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_the_last_plan_is_posted_for_all, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_a_chain_is_posted, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_an_offcut_that_is_not_cut_stays, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_what_is_spoiled_is_not_posted, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_the_ledger_of_before_is_taken_along, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_history_is_only_added_to, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_failing_memory, bench_set_up, bench_tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
