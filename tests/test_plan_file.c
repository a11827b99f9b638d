/* test_plan_file.c - a plan written, read back and compared with what was planned; plan files that are wrong. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdlib.h>
#include <unistd.h>

#include <drawerwright/plan.h>
#include <drawerwright/purchase.h>
#include <drawerwright/run.h>
#include <drawerwright/text.h>

#include "files/tree.h"
#include "job_from.h"

static struct dw_arena *arena;
static struct dw_faults *faults;
static struct dw_run run;
static struct dw_text written;

static void write_body(void *context)
{
    (void)context;
    written = dw_text_in(arena);
    (void)dw_json_plan(run.purchase, faults, &written);
}

/* Two cases, six drawers, planned once for all tests. */
static int plan_once(void **state)
{
    (void)state;
    arena = dw_arena_new();
    faults = dw_faults_new();
    if (arena == NULL || faults == NULL)
        return 1;
    const struct dw_job *job =
        job_read("{" TEST_SHOP ", \"cases\": [{\"name\": \"Bench\", \"opening\": {\"width\": 15, \"height\": 20, \"depth\": 22}, \"fit\": \"inset\", " TEST_MAKE
                 ", \"banks\": [{\"drawers\": 4}]}, {\"name\": \"Stand\", \"opening\": {\"width\": 20, \"height\": 12, \"depth\": 20}, \"fit\": \"inset\", " TEST_MAKE
                 ", \"banks\": [{\"drawers\": 2}]}]}",
                 arena, faults);
    const struct dw_layout_options options = {.patience = DW_SHORT, .threads = 1};
    if (job == NULL || dw_run_jobs(&job, 1, DW_STAGE_LAYOUT, &options, NULL, arena, faults, &run) != DW_DONE) {
        print_faults(faults);
        return 1;
    }
    return dw_arena_guard(arena, write_body, NULL) ? 0 : 1;
}

static int forget(void **state)
{
    (void)state;
    dw_arena_free(arena);
    dw_faults_free(faults);
    return 0;
}

/* Reads a text into an arena of its own that the caller frees. */
static enum dw_status read_plan(const char *text, struct dw_arena *own, struct dw_faults *found, const struct dw_plan **plan)
{
    return dw_plan_read_text(text, strlen(text), own, found, plan);
}

static void same_node(const struct dw_plan *plan, const struct dw_plan_node *read, const struct dw_layout_node *planned)
{
    assert_true(read->x == planned->x && read->y == planned->y && read->length == planned->length && read->width == planned->width);
    assert_int_equal(read->use, planned->use);
    if (read->use == DW_NODE_CUT)
        assert_int_equal(read->cut, planned->cut);
    if (read->use == DW_NODE_PART) {
        assert_string_equal(plan->parts[read->part].id, run.parts[planned->piece.job]->at[planned->piece.part].id);
        assert_string_equal(read->mark, planned->mark);
        assert_int_equal(read->turned, planned->turned);
    }
    if (read->use != DW_NODE_CUT)
        return;
    assert_int_equal(read->piece_count, planned->piece_count);
    for (size_t i = 0; i < read->piece_count; i++)
        same_node(plan, &read->pieces[i], &planned->pieces[i]);
}

static void same_material(const struct dw_plan *plan, const struct dw_plan_material *read, const struct dw_material_layout *planned)
{
    assert_true(read->cost == planned->cost && read->lower_bound == planned->lower_bound && read->proved == planned->proved);
    assert_int_equal(read->source_count, planned->problem->source_count);
    for (size_t i = 0; i < read->source_count; i++) {
        const struct dw_plan_source *source = &read->sources[i];
        const struct dw_sheet_source *offered = &planned->problem->sources[i];
        assert_string_equal(source->sheet, offered->id);
        assert_true(source->length == offered->length && source->width == offered->width && source->price == offered->price);
        assert_true(source->owned == offered->owned && source->grain_across == offered->grain_across && source->count == offered->count);
        assert_memory_equal(source->trim, offered->trim, sizeof source->trim);
    }
    assert_int_equal(read->sheet_count, planned->sheet_count);
    for (size_t i = 0; i < read->sheet_count; i++) {
        assert_true(read->sheets[i].source == planned->sheets[i].source);
        assert_string_equal(read->sheets[i].name, planned->sheets[i].name);
        same_node(plan, &read->sheets[i].root, &planned->sheets[i].root);
    }
}

static void test_a_plan_goes_round(void **state)
{
    (void)state;
    const struct dw_plan *plan = NULL;
    assert_int_equal(read_plan(written.bytes, arena, faults, &plan), DW_DONE);
    assert_string_equal(plan->plan_id, run.purchase->plan_mark);
    assert_true(plan->total == run.purchase->total && plan->lower_bound == run.purchase->lower_bound);
    assert_int_equal(plan->job_count, 1);
    assert_string_equal(plan->jobs[0], "test");
    assert_int_equal(plan->part_count, run.parts[0]->count);
    for (size_t i = 0; i < plan->part_count; i++) {
        const struct dw_plan_part *read = &plan->parts[i];
        const struct dw_part *part = &run.parts[0]->at[i];
        assert_string_equal(read->id, part->id);
        assert_true(read->length == part->length.value && read->width == part->width.value && read->thickness == part->thickness);
        assert_true(read->finished_length == part->finished_length && read->finished_width == part->finished_width);
        assert_int_equal(read->grain, part->grain);
        assert_int_equal(read->count, part->count);
        for (size_t k = 0; k < read->count; k++)
            assert_string_equal(read->pieces[k], part->pieces[k].mark);
    }
    const struct dw_layouts *layouts = run.purchase->layouts;
    assert_int_equal(plan->material_count, layouts->material_count);
    for (size_t i = 0; i < plan->material_count; i++)
        same_material(plan, &plan->materials[i], &layouts->materials[i]);
}

/* The JSON of every stage is JSON by our own strict reader, and writing it twice gives the same bytes. */
enum { STAGES = 4 };

struct stages {
    struct dw_text text[STAGES];
};

static void stages_body(void *context)
{
    struct stages *stages = context;
    for (size_t i = 0; i < STAGES; i++)
        stages->text[i] = dw_text_in(arena);
    (void)dw_json_sizing(run.sizings[0], &stages->text[0]);
    (void)dw_json_parts(run.parts[0], &stages->text[1]);
    (void)dw_json_layouts(run.purchase, &stages->text[2]);
    (void)dw_json_purchase(run.purchase, &stages->text[3]);
}

static void test_every_stage_is_json(void **state)
{
    (void)state;
    struct stages first;
    struct stages again;
    assert_true(dw_arena_guard(arena, stages_body, &first));
    assert_true(dw_arena_guard(arena, stages_body, &again));
    for (size_t i = 0; i < STAGES; i++) {
        assert_string_equal(first.text[i].bytes, again.text[i].bytes);
        const struct dwi_tree *tree = dwi_tree_read(first.text[i].bytes, first.text[i].length, &dwi_plan_limits, "", arena, faults);
        assert_non_null(tree);
        assert_int_equal(tree->kind, DWI_OBJECT);
    }
}

static struct dw_text list;

static void list_body(void *context)
{
    (void)context;
    list = dw_text_in(arena);
    (void)dw_csv_parts(run.purchase->layouts, &list);
}

/* The list of parts of a plan, planned again as a bare list, asks for the same pieces. */
static void test_the_list_of_parts_goes_round(void **state)
{
    (void)state;
    char folder[] = "/tmp/dw-plan-XXXXXX";
    char shop[64];
    char path[64];
    assert_non_null(mkdtemp(folder));
    (void)snprintf(shop, sizeof shop, "%s/shop.json", folder);
    (void)snprintf(path, sizeof path, "%s/parts.csv", folder);
    static const char shop_text[] = "{\"units\": \"mm\", \"materials\": [{\"id\": \"ply 3/4\", \"thickness\": 19}, {\"id\": \"ply 1/2\", \"thickness\": 12},"
                                    "{\"id\": \"ply 1/4\", \"thickness\": 6}]}";
    assert_true(dw_arena_guard(arena, list_body, NULL));
    assert_int_equal(dw_file_write(shop, shop_text, strlen(shop_text), faults), DW_DONE);
    assert_int_equal(dw_file_write(path, list.bytes, list.length, faults), DW_DONE);
    const struct dw_job *job = NULL;
    const enum dw_status status = dw_job_read_file(path, &(struct dw_read_options){.shop = shop}, arena, faults, &job);
    (void)unlink(shop);
    (void)unlink(path);
    (void)rmdir(folder);
    assert_int_equal(status, DW_DONE);
    assert_int_equal(job->extra_count, run.parts[0]->count);
    for (size_t i = 0; i < job->extra_count; i++) {
        const struct dw_part *part = &run.parts[0]->at[i];
        assert_string_equal(job->extras[i].name, part->name);
        assert_string_equal(dw_material_id(job, job->extras[i].material), dw_material_id(run.jobs[0], part->material));
        assert_true(job->extras[i].length == part->length.value && job->extras[i].width == part->width.value);
        assert_int_equal(job->extras[i].grain, part->grain);
        assert_int_equal(job->extras[i].count, part->count);
    }
}

/* The plan's text with the first `from` replaced; freed by the caller. */
static char *spoiled(const char *from, const char *to)
{
    const char *at = strstr(written.bytes, from);
    assert_non_null(at);
    char *text = malloc(written.length + strlen(to) + 1);
    assert_non_null(text);
    const size_t before = (size_t)(at - written.bytes);
    memcpy(text, written.bytes, before);
    (void)strcpy(text + before, to);
    (void)strcat(text, at + strlen(from));
    return text;
}

static void test_spoiled_plans_are_refused(void **state)
{
    (void)state;
    static const struct {
        const char *from, *to, *fault;
    } rows[] = {
        {"\"format\": 1", "\"format\": 2", "newer-format format"},
        {"\"format\": 1", "\"format\": 0", "unknown-format format"},
        {"\"format\": 1", "\"format\": \"1\"", "wrong-type format"},
        {"\"plan_id\"", "\"plan_ib\"", "missing plan_id"},
        {"\"thickness\": ", "\"thickness\": -", "out-of-range parts[0].thickness"},
        {"\"thickness\": ", "\"thickness\": 0.5, \"t\": ", "wrong-type parts[0].thickness"},
        {"\"thickness\": ", "\"thickness\": 99999999999, \"t\": ", "out-of-range parts[0].thickness"},
        {"\"thickness\": ", "\"thickness\": 1e3, \"t\": ", "wrong-type parts[0].thickness"},
        {"\"grain\": \"", "\"grain\": \"un", "unknown-word parts[0].grain"},
        {"\"count\": ", "\"count\": 1", "count-differs parts[0].count"},
        {"\"finished\": {", "\"finished\": 5, \"f\": {", "wrong-type parts[0].finished"},
        {"\"pieces\": [\"", "\"pieces\": [1, \"", "wrong-type parts[0].pieces[0]"},
        {"\"from\": \"bought\"", "\"from\": \"rack\"", "wrong-type materials[0].offered[0].rack_id"},
        {"\"trim\": [", "\"trim\": [1, ", "wrong-type materials[0].offered[0].trim"},
        {"\"part\": \"p", "\"part\": \"q", "unknown-part"},
        {"\"quarter_turn\": ", "\"quarter_turn\": 1, \"q\": ", "wrong-type"},
        {"\"cut\": {", "\"cut\": 5, \"c\": {", "wrong-type materials[0].sheets[0].cut"},
        {"\"materials\": [", "\"materials\": [7, ", "wrong-type materials[0]"},
        {"{", "[{", "not-json "},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct dw_arena *own = dw_arena_new();
        struct dw_faults *found = dw_faults_new();
        const struct dw_plan *plan = NULL;
        char *text = spoiled(rows[i].from, rows[i].to);
        char first[256] = "";
        assert_int_equal(read_plan(text, own, found, &plan), DW_INPUT);
        assert_null(plan);
        bool told = false;
        for (size_t k = 0; k < found->count; k++) {
            (void)snprintf(first, sizeof first, "%s %s", found->at[k].code, found->at[k].address);
            told = told || strncmp(first, rows[i].fault, strlen(rows[i].fault)) == 0;
        }
        if (!told)
            fail_msg("row %zu: got %s, wanted %s", i, first, rows[i].fault);
        free(text);
        dw_faults_free(found);
        dw_arena_free(own);
    }
}

static void test_a_plan_that_is_cut_short_is_refused(void **state)
{
    (void)state;
    for (size_t length = 0; length + 2 < written.length; length += 97) {
        struct dw_arena *own = dw_arena_new();
        struct dw_faults *found = dw_faults_new();
        const struct dw_plan *plan = NULL;
        assert_int_equal(dw_plan_read_text(written.bytes, length, own, found, &plan), DW_INPUT);
        assert_null(plan);
        dw_faults_free(found);
        dw_arena_free(own);
    }
}

static void test_reading_survives_failing_memory(void **state)
{
    (void)state;
    size_t n = 1;
    for (;; n++) {
        struct dw_arena *own = dw_arena_new();
        struct dw_faults *found = dw_faults_new();
        const struct dw_plan *plan = NULL;
        dw_memory_fail_at(n);
        const enum dw_status status = read_plan(written.bytes, own, found, &plan);
        dw_memory_fail_at(0);
        assert_int_equal(status == DW_DONE, plan != NULL);
        assert_true(status == DW_DONE || status == DW_SURROUNDINGS);
        dw_faults_free(found);
        dw_arena_free(own);
        if (status == DW_DONE)
            break;
    }
    assert_true(n > 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_plan_goes_round),
        cmocka_unit_test(test_every_stage_is_json),
        cmocka_unit_test(test_the_list_of_parts_goes_round),
        cmocka_unit_test(test_spoiled_plans_are_refused),
        cmocka_unit_test(test_a_plan_that_is_cut_short_is_refused),
        cmocka_unit_test(test_reading_survives_failing_memory),
    };
    return cmocka_run_group_tests(tests, plan_once, forget);
}
