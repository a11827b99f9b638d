/* test_leeway_edits.c - what taking and refusing a change writes into a job: taken, the job comes out at the very sizes that leeway chose, at the same
 * cost and with nothing more to give; refused, nothing gives. Jobs of our own; what is held against one another is the program with and without leeway.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <drawerwright/leeway.h>
#include <drawerwright/run.h>

#include "job_from.h"

static const struct dw_layout_options work = {.patience = DW_SHORT, .work = 60000, .no_choices = true};

/* One case of three drawers, one part of which is of a material whose sheets are narrow; and twelve slats listed by hand. */
#define JOB \
    "{\"format\": 1, \"name\": \"one\", \"units\": \"in\", \"shop\": {\"name\": \"t\", \"habits\": {\"trim\": 0}, \"materials\": [" \
    "{\"id\": \"tight\", \"thickness\": \"1/2\", \"kind\": \"MDF\", \"sheets\": [{\"id\": \"s\", \"length\": 20, \"width\": \"%d/16\", \"price\": \"20.00\"}]}," \
    "{\"id\": \"ample\", \"thickness\": \"1/4\", \"kind\": \"MDF\", \"sheets\": [{\"id\": \"s\", \"length\": 96, \"width\": 96, \"price\": \"9.00\"}]}]," \
    "\"slides\": [{\"id\": \"side\", \"lengths\": [12, \"350 mm\"]}]}, \"cases\": [{\"name\": \"A\", \"opening\": {\"width\": 16, \"height\": 16, \"depth\": 15}, " \
    "\"fit\": {%s}, \"box\": {\"sides\": \"%s\", \"front\": \"ample\", \"back\": \"%s\", \"bottom\": \"ample\", \"joint\": \"butt\", " \
    "\"groove_depth\": \"1/8\", \"bottom_style\": \"slid in\"%s}, \"front\": {\"material\": \"%s\"}, \"banks\": [{\"drawers\": [{\"fit\": %s}, {}, {\"box\": {}}]%s}]}]%s}"

static const struct range {
    const char *name, *fit, *sides, *back, *box, *front, *first_fit, *bank, *parts;
    int least, most; /* widths of the tight sheet, in sixteenths, among which some save a sheet */
    dw_length near;  /* 0: the range */
} ranges[] = {
    {"box height", "\"overlay\": \"1/2\"", "tight", "ample", ", \"leeway\": {\"lower\": \"1/4\"}", "ample", "{}", "", "", 180, 240, 0},
    {"a told box height", "\"overlay\": \"1/2\"", "tight", "ample", ", \"height\": 4, \"leeway\": {\"lower\": \"1/4\"}", "ample", "{}", "", "", 180, 240, 0},
    {"slide length", "\"overlay\": \"1/2\"", "tight", "ample", ", \"leeway\": {\"shorter\": 1}", "ample", "{}", "", "", 190, 230, 0},
    {"groove", "\"overlay\": \"1/2\"", "ample", "tight", ", \"leeway\": {\"groove_higher\": \"1/8\"}", "ample", "{}", "", "", 150, 180, 0},
    {"overlay", "\"overlay\": \"1/2\", \"leeway\": \"1/8\"", "ample", "ample", "", "tight", "\"overlay\"", "", "", 256, 284, 0},
    {"lipped", "\"kind\": \"lipped\", \"overlay\": \"1/2\", \"leeway\": \"1/8\"", "ample", "ample", "", "tight", "{\"lip\": \"3/16\"}", "", "", 256, 284, 0},
    {"fronts", "\"overlay\": \"1/2\"", "ample", "ample", "", "tight", "{}", ", \"leeway\": \"1/8\"", "", 170, 200, 0},
    {"listed", "\"overlay\": \"1/2\"", "ample", "ample", "", "ample", "{}", "",
     ", \"parts\": [{\"name\": \"slat\", \"material\": \"tight\", \"length\": 19, \"width\": \"2 1/16\", \"count\": 12}]", 96, 140, DW_INCH / 8},
};

struct trial {
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_run run;
    const struct dw_leeway *leeway;
};

static void plan(struct trial *trial, const char *json, dw_length near)
{
    *trial = (struct trial){.arena = dw_arena_new(), .faults = dw_faults_new()};
    const struct dw_job *job = job_read(json, trial->arena, trial->faults);
    if (job == NULL || dw_run_jobs(&job, 1, DW_STAGE_LAYOUT, &work, NULL, trial->arena, trial->faults, &trial->run) != DW_DONE)
        print_faults(trial->faults);
    assert_non_null(trial->run.purchase);
    const struct dw_leeway_options options = {.near = near};
    assert_int_equal(dw_leeway_search(trial->run.jobs, 1, trial->run.purchase, &options, &work, NULL, trial->arena, trial->faults, &trial->leeway), DW_DONE);
}

static void drop(struct trial *trial)
{
    dw_arena_free(trial->arena);
    dw_faults_free(trial->faults);
}

static const char *value_of(struct dw_arena *arena, const struct dw_leeway_edit *edit)
{
    switch (edit->kind) {
        case DW_EDIT_LENGTH:
            return dw_length_show_as_sold(arena, edit->length, (struct dw_length_style){.unit = DW_IN, .decimals = -1});
        case DW_EDIT_NONE:
            return "0";
        case DW_EDIT_OVERLAY:
            return "overlay";
        case DW_EDIT_LIPPED:
            return "lipped";
    }
    return NULL;
}

/* The fit of the first drawer stands as a bare word in one of the jobs; an editor writes it out before it sets a key of it. */
static const char *written_out(struct dw_arena *arena, const char *json)
{
    const char *bare = strstr(json, "{\"fit\": \"overlay\"}");
    return bare == NULL ? json : dw_arena_format(arena, "%.*s{\"fit\": {\"kind\": \"overlay\"}}%s", (int)(bare - json), json, bare + strlen("{\"fit\": \"overlay\"}"));
}

struct editing {
    const char *json;
    const struct dw_leeway *leeway;
    bool refuse;
    struct dw_arena *arena;
    const char *edited;
};

static void edit_body(void *context)
{
    struct editing *editing = context;
    struct dw_faults *faults = dw_faults_new();
    editing->edited = written_out(editing->arena, editing->json);
    for (size_t c = 0; c < editing->leeway->change_count; c++) {
        const struct dw_leeway_change *change = &editing->leeway->changes[c];
        const struct dw_leeway_edit *edits = editing->refuse ? change->refuse : change->take;
        for (size_t i = 0; i < (editing->refuse ? change->refuse_count : change->take_count); i++) {
            struct dw_text out = dw_text_in(editing->arena);
            assert_int_equal(edits[i].job, 0);
            assert_int_equal(dw_job_set(editing->edited, strlen(editing->edited), edits[i].address, value_of(editing->arena, &edits[i]), &out, faults), DW_DONE);
            editing->edited = out.bytes;
        }
    }
    dw_faults_free(faults);
}

/* Plans the job with every change taken, or refused. */
static void plan_edited(struct trial *trial, const char *json, const struct dw_leeway *leeway, bool refuse, dw_length near)
{
    struct editing editing = {.json = json, .leeway = leeway, .refuse = refuse, .arena = dw_arena_new()};
    assert_true(dw_arena_guard(editing.arena, edit_body, &editing));
    plan(trial, editing.edited, near);
    dw_arena_free(editing.arena);
}

static void expect_same_sizes(const struct dw_sizing *one, const struct dw_sizing *other)
{
    const struct dw_sized_bank *a = &one->cases[0].banks[0];
    const struct dw_sized_bank *b = &other->cases[0].banks[0];
    for (size_t d = 0; d < a->drawer_count; d++) {
        assert_int_equal(a->drawers[d].front_height.value, b->drawers[d].front_height.value);
        assert_int_equal(a->drawers[d].front_width.value, b->drawers[d].front_width.value);
        assert_int_equal(a->drawers[d].box_height.value, b->drawers[d].box_height.value);
        assert_int_equal(a->drawers[d].slide_length.value, b->drawers[d].slide_length.value);
        assert_int_equal(a->drawers[d].drawer->box.groove_up, b->drawers[d].drawer->box.groove_up);
        assert_int_equal(a->drawers[d].drawer->fit.lip, b->drawers[d].drawer->fit.lip);
    }
}

/* Whether a sheet was saved at this width; then both answers are tried. */
static bool check(const struct range *range, int width)
{
    char json[4096];
    struct trial trial, taken;
    (void)snprintf(json, sizeof json, JOB, width, range->fit, range->sides, range->back, range->box, range->front, range->first_fit, range->bank, range->parts);
    plan(&trial, json, range->near);
    const struct dw_leeway *leeway = trial.leeway;
    if (leeway->change_count > 0) {
        plan_edited(&taken, json, leeway, false, 0);
        assert_int_equal(taken.run.purchase->sheets_cost, leeway->purchase->sheets_cost);
        expect_same_sizes(taken.run.sizings[0], leeway->sizings[0]);
        assert_int_equal(taken.leeway->change_count, 0);
        drop(&taken);
    }
    if (leeway->change_count > 0 && range->near == 0) {
        struct trial refused;
        plan_edited(&refused, json, leeway, true, 0);
        assert_int_equal(refused.leeway->change_count, 0);
        expect_same_sizes(refused.run.sizings[0], trial.run.sizings[0]);
        drop(&refused);
    }
    for (size_t c = 0; range->near > 0 && c < leeway->change_count; c++)
        assert_int_equal(leeway->changes[c].refuse_count, 0);
    const bool saved = leeway->change_count > 0;
    drop(&trial);
    return saved;
}

static void test_taken_and_refused(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof ranges / sizeof *ranges; i++) {
        int saved = 0;
        for (int width = ranges[i].least; width <= ranges[i].most && saved < 2; width += 2)
            saved += check(&ranges[i], width) ? 1 : 0;
        if (saved == 0)
            fail_msg("%s never saved a sheet", ranges[i].name);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_taken_and_refused)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
