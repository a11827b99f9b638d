/* test_drawing_jobs.c - packets of whole jobs: every sample and many random ones, looked over shape by shape; their files held against qpdf, pdftotext and
 * xmllint (none of ours); failing memory; the time a large packet takes.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include <drawerwright/drawing.h>
#include <drawerwright/files.h>
#include <drawerwright/memory.h>
#include <drawerwright/run.h>
#include <drawerwright/text.h>

#include "drawing/cuts.h"
#include "drawing_checks.h"
#include "random_job.h"

static const struct dw_packet_options everything = {.story_stick = true, .labels = true};

/* One job, from its file or its text, all the way. */
struct done {
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_run run;
    enum dw_status status;
};

static struct done run_job(const struct dw_job *job, struct dw_arena *arena, struct dw_faults *faults, enum dw_status status)
{
    struct done done = {.arena = arena, .faults = faults, .status = status};
    const struct dw_layout_options options = {.patience = DW_SHORT};
    if (status == DW_DONE)
        done.status = dw_run_jobs(&job, 1, DW_STAGE_LAYOUT, &options, NULL, arena, faults, &done.run);
    return done;
}

static struct done run_file(const char *path, const struct dw_read_options *changes)
{
    struct dw_arena *arena = dw_arena_new();
    struct dw_faults *faults = dw_faults_new();
    const struct dw_job *job = NULL;
    const enum dw_status status = dw_job_read_file(path, changes, arena, faults, &job);
    return run_job(job, arena, faults, status);
}

struct throwing {
    struct dw_arena *arena;
    uint64_t seed;
    void (*job)(struct dw_text *text, uint64_t seed);
    struct dw_text text;
};

static void throw_body(void *context)
{
    struct throwing *throwing = context;
    throwing->text = dw_text_in(throwing->arena);
    throwing->job(&throwing->text, throwing->seed);
}

static struct done run_thrown(void (*make)(struct dw_text *text, uint64_t seed), uint64_t seed)
{
    struct dw_arena *arena = dw_arena_new();
    struct dw_faults *faults = dw_faults_new();
    struct throwing throwing = {.arena = arena, .seed = seed, .job = make};
    const struct dw_job *job = NULL;
    assert_true(dw_arena_guard(arena, throw_body, &throwing));
    const enum dw_status status = dw_job_read_text(throwing.text.bytes, throwing.text.length, "random", NULL, NULL, arena, faults, &job);
    if (status != DW_DONE)
        for (size_t i = 0; i < faults->count; i++)
            print_error("seed %llu: %s: %s\n", (unsigned long long)seed, faults->at[i].address, faults->at[i].wrong);
    assert_int_equal(status, DW_DONE);
    return run_job(job, arena, faults, status);
}

static void free_done(struct done *done)
{
    dw_arena_free(done->arena);
    dw_faults_free(done->faults);
}

static struct dw_scenes packet_of(struct done *done, const struct dw_packet_options *options)
{
    struct dw_scenes pages = {0};
    assert_int_equal(dw_draw_packet(done->run.purchase, done->faults, options, done->arena, done->faults, &pages), DW_DONE);
    return pages;
}

static bool cuts_into(const struct dw_layout_node *node, dw_length x, dw_length y)
{
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count; i++)
        if (cuts_into(&node->pieces[i], x, y))
            return true;
    return (node->use == DW_NODE_PART || node->use == DW_NODE_KEEP) && x > node->x && x < node->x + node->length && y > node->y && y < node->y + node->width;
}

/* How many cuts of a sheet free something. */
static size_t freeing_cuts(const struct dw_ladder *ladder, size_t sheet)
{
    size_t count = 0;
    for (size_t r = 0; r < ladder->rung_count; r++)
        for (size_t c = 0; c < ladder->rungs[r].cut_count && ladder->rungs[r].kind != DW_LADDER_TRIM; c++) {
            const struct dw_panel *off = &ladder->panels[ladder->rungs[r].cuts[c].off];
            count += off->sheet == sheet && off->use != DW_NODE_WASTE ? 1 : 0;
        }
    return count;
}

/* Every cut that frees something has its number, on a kerf and not on a piece. */
static size_t check_cut_numbers(struct done *done, const struct dw_material_layout *layout, size_t sheet)
{
    const struct dwi_sheet_cuts cuts = dwi_sheet_cuts_of(done->arena, layout, sheet);
    const struct dw_layout_node *root = &layout->sheets[sheet].root;
    size_t breaches = cuts.first_count + cuts.later_count == freeing_cuts(&layout->ladder, sheet) ? 0 : 1;
    for (size_t i = 0; i < cuts.first_count; i++) {
        const struct dwi_first_cut *cut = &cuts.first[i];
        const bool rip = cut->cut == DW_RIP;
        int into = 0; /* it may go through what was left of the sheet then alone, so not all of its line is a kerf */
        for (int at = 1; at < 20; at++)
            into += cuts_into(root, rip ? root->x + root->length * at / 20 : cut->place, rip ? cut->place : root->y + root->width * at / 20) ? 1 : 0;
        breaches += into == 19 ? 1 : 0;
    }
    for (size_t i = 0; i < cuts.later_count; i++) {
        const struct dwi_later_cut *cut = &cuts.later[i];
        for (int at = 1; at < 20; at++)
            breaches += cuts_into(root, cut->x + (cut->cut == DW_RIP ? cut->length * at / 20 : 0), cut->y + (cut->cut == DW_RIP ? 0 : cut->length * at / 20)) ? 1 : 0;
    }
    if (breaches > 0)
        print_error("sheet %s: %zu numbers missing or off their cuts\n", layout->sheets[sheet].name, breaches);
    return breaches;
}

static size_t check_single_drawings(struct done *done)
{
    size_t breaches = 0;
    struct dw_scene scene;
    const struct dw_sizing *sizing = done->run.sizings[0];
    for (size_t c = 0; c < sizing->case_count; c++) {
        assert_int_equal(dw_draw_case(sizing, c, 79200, 61200, done->arena, done->faults, &scene), DW_DONE);
        breaches += check_scene(&scene);
    }
    const struct dw_layouts *layouts = done->run.purchase->layouts;
    for (size_t m = 0; m < layouts->material_count; m++)
        for (size_t s = 0; s < layouts->materials[m].sheet_count; s++) {
            assert_int_equal(dw_draw_sheet(done->run.purchase, m, s, 72000, 54000, done->arena, done->faults, &scene), DW_DONE);
            breaches += check_scene(&scene) + check_cut_numbers(done, &layouts->materials[m], s);
        }
    return breaches;
}

/* ---- outside programs --------------------------------------------------------------------------------------- */

static bool have(const char *program)
{
    char command[200];
    (void)snprintf(command, sizeof command, "command -v %s >/dev/null 2>&1", program);
    return system(command) == 0;
}

/* Writes bytes to a file of its own, runs "program FILE rest" and returns its exit. */
static int run_on(const char *bytes, size_t length, const char *program, const char *rest, const char *ending)
{
    char path[100];
    char line[400];
    (void)snprintf(path, sizeof path, "/tmp/dw-drawing-%ld.%s", (long)getpid(), ending);
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    assert_int_equal(fwrite(bytes, 1, length, file), length);
    assert_int_equal(fclose(file), 0);
    (void)snprintf(line, sizeof line, "%s %s %s", program, path, rest);
    const int result = system(line);
    (void)remove(path);
    return result;
}

static void check_pdf(struct done *done, const struct dw_scenes *pages)
{
    const char *bytes = NULL;
    const char *again = NULL;
    size_t length = 0;
    size_t length_again = 0;
    assert_int_equal(dw_scenes_pdf(pages, "test", done->arena, done->faults, &bytes, &length), DW_DONE);
    assert_int_equal(dw_scenes_pdf(pages, "test", done->arena, done->faults, &again, &length_again), DW_DONE);
    assert_int_equal(length, length_again);
    assert_memory_equal(bytes, again, length);
    if (have("qpdf"))
        assert_int_equal(run_on(bytes, length, "qpdf --check", ">/dev/null 2>&1", "pdf"), 0);
    if (have("pdftotext")) {
        char command[100];
        (void)snprintf(command, sizeof command, "- | grep -q 'plan %s'", done->run.purchase->plan_mark);
        assert_int_equal(run_on(bytes, length, "pdftotext", command, "pdf"), 0);
        assert_int_equal(run_on(bytes, length, "pdftotext", "- | grep -q 'Cut ladder'", "pdf"), 0);
        assert_int_equal(run_on(bytes, length, "pdftotext -bbox", "- | awk -F'\"' -f '" DW_SOURCE_DIR "/tests/outside/check_words.awk'", "pdf"), 0);
    }
}

static void check_svgs(struct done *done, const struct dw_scenes *pages)
{
    for (size_t i = 0; i < pages->count; i++) {
        const char *bytes = NULL;
        size_t length = 0;
        assert_int_equal(dw_scene_svg(&pages->at[i], done->arena, done->faults, &bytes, &length), DW_DONE);
        if (have("xmllint"))
            assert_int_equal(run_on(bytes, length, "xmllint --noout --nonet", "", "svg"), 0);
    }
}

/* ---- tests -------------------------------------------------------------------------------------------------- */

static const char *const samples[] = {"plan-chest", "seed-cabinet", "service-bench"};

/* Names in the samples are short: on none of their pages but the small labels is a text cut off. */
static size_t check_whole_texts(const struct dw_scenes *pages)
{
    size_t breaches = 0;
    for (size_t p = 0; p < pages->count; p++)
        for (size_t i = 0; strcmp(pages->at[p].title, "Labels") != 0 && i < pages->at[p].shape_count; i++) {
            const struct dw_shape *shape = &pages->at[p].shapes[i];
            const size_t length = shape->kind == DW_SHAPE_TEXT ? strlen(shape->text) : 0;
            if (length >= 3 && strcmp(shape->text + length - 3, "\xE2\x80\xA6") == 0)
                breaches += complain(&pages->at[p], shape, "is cut off");
        }
    return breaches;
}

static void test_samples(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        char path[300];
        (void)snprintf(path, sizeof path, "%s/samples/%s.json", DW_SOURCE_DIR, samples[i]);
        struct done done = run_file(path, NULL);
        assert_int_equal(done.status, DW_DONE);
        for (int paper = 0; paper < 2; paper++) {
            struct dw_packet_options options = everything;
            options.paper = paper == 0 ? DW_LETTER : DW_A4;
            const struct dw_scenes pages = packet_of(&done, &options);
            assert_int_equal(check_scenes(&pages) + check_whole_texts(&pages), 0);
            if (paper == 0) {
                check_pdf(&done, &pages);
                check_svgs(&done, &pages);
            }
        }
        assert_int_equal(check_single_drawings(&done), 0);
        free_done(&done);
    }
}

/* Sheets that the yard has cut for a small van, and a trim of 1/8 that the blade of 1/8 takes whole, so that nothing comes off: every cut that frees
 * something has its number all the same. */
static void test_rough_cuts_and_thin_trims(void **state)
{
    (void)state;
    static const char *const settings[] = {"shop.habits.van_length=72", "shop.habits.van_width=40", "shop.habits.trim=1/8"};
    const struct dw_read_options changes = {.settings = settings, .setting_count = sizeof settings / sizeof *settings};
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        char path[300];
        (void)snprintf(path, sizeof path, "%s/samples/%s.json", DW_SOURCE_DIR, samples[i]);
        struct done done = run_file(path, &changes);
        assert_int_equal(done.status, DW_DONE);
        assert_int_equal(done.run.purchase->layouts->materials[0].ladder.rungs[0].kind, DW_LADDER_YARD);
        assert_int_equal(check_single_drawings(&done), 0);
        free_done(&done);
    }
}

static void test_random_jobs(void **state)
{
    (void)state;
    const uint64_t count = getenv("DW_LONG") != NULL ? 200 : 4;
    const uint64_t first = getenv("DW_SEED") != NULL ? strtoull(getenv("DW_SEED"), NULL, 10) : 1; /* to look at one again */
    uint64_t drawn = 0;
    size_t breaches = 0;
    for (uint64_t seed = first; seed < first + count; seed++) {
        struct done done = run_thrown(random_job, seed);
        if (done.status == DW_DONE) {
            const struct dw_scenes pages = packet_of(&done, &everything);
            const size_t found = check_scenes(&pages) + check_single_drawings(&done);
            if (found != 0)
                print_error("seed %llu: %zu breaches\n", (unsigned long long)seed, found);
            breaches += found;
            drawn++;
        } else {
            for (size_t i = 0; i < done.faults->count; i++)
                if (done.faults->at[i].grade == DW_ERROR && getenv("DW_TELL") != NULL)
                    print_error("seed %llu: %s: %s\n", (unsigned long long)seed, done.faults->at[i].address, done.faults->at[i].wrong);
        }
        free_done(&done);
    }
    assert_int_equal(breaches, 0);
    if (drawn * 2 < count)
        fail_msg("only %llu of %llu random jobs could be drawn", (unsigned long long)drawn, (unsigned long long)count);
}

/* Parts alone, most of them too small for their labels, beside a few large ones. */
static void sticks_job(struct dw_text *text, uint64_t seed)
{
    struct dice dice = {.state = seed};
    dw_text_add(text, "{\"format\": 1, \"name\": \"Sticks\", \"units\": \"in\", \"shop\": {\"name\": \"sticks\", \"materials\": ["
                      "{\"id\": \"half\", \"thickness\": \"15/32\", \"sheets\": [{\"id\": \"full\", \"length\": 96, \"width\": 48, \"price\": \"60\"}]}]},"
                      "\"cases\": [], \"parts\": [");
    const int64_t kinds = dice_range(&dice, 4, 9);
    for (int64_t i = 0; i < kinds; i++) {
        const bool large = dice_one_in(&dice, 3);
        dw_text_addf(text, "%s{\"name\": \"stick %lld\", \"material\": \"half\", \"length\": \"%lld\", \"width\": \"%lld %lld/8\", \"count\": %lld}", i == 0 ? "" : ", ",
                     (long long)i, (long long)dice_range(&dice, large ? 14 : 2, large ? 34 : 14), (long long)dice_range(&dice, large ? 5 : 0, large ? 20 : 2),
                     (long long)dice_range(&dice, 4, 7), (long long)dice_range(&dice, 1, large ? 5 : 12));
    }
    dw_text_add(text, "]}");
}

static size_t shapes_of(const struct dw_scene *scene, bool (*is_one)(const struct dw_shape *shape))
{
    size_t count = 0;
    for (size_t i = 0; i < scene->shape_count; i++)
        count += is_one(&scene->shapes[i]) ? 1 : 0;
    return count;
}

/* Leaders are many here, and check_leaders holds each against all texts and all other leaders. */
static void test_small_parts_are_led_out(void **state)
{
    (void)state;
    const uint64_t count = getenv("DW_LONG") != NULL ? 200 : 12;
    size_t leaders = 0;
    size_t breaches = 0;
    for (uint64_t seed = 1; seed <= count; seed++) {
        struct done done = run_thrown(sticks_job, seed);
        assert_int_equal(done.status, DW_DONE);
        struct dw_scene scene;
        const struct dw_material_layout *layout = &done.run.purchase->layouts->materials[0];
        for (size_t s = 0; s < layout->sheet_count; s++) {
            assert_int_equal(dw_draw_sheet(done.run.purchase, 0, s, 72000, 54000, done.arena, done.faults, &scene), DW_DONE);
            breaches += check_scene(&scene);
            leaders += shapes_of(&scene, is_leader);
        }
        free_done(&done);
    }
    assert_int_equal(breaches, 0);
    assert_true(leaders >= count);
}

/* Very many kinds of pieces as large as a hand. */
static void bits_job(struct dw_text *text, uint64_t seed)
{
    struct dice dice = {.state = seed};
    dw_text_add(text, "{\"format\": 1, \"name\": \"Bits\", \"units\": \"in\", \"shop\": {\"name\": \"bits\", \"materials\": ["
                      "{\"id\": \"half\", \"thickness\": \"15/32\", \"sheets\": [{\"id\": \"full\", \"length\": 96, \"width\": 48, \"price\": \"60\"}]}]},"
                      "\"cases\": [], \"parts\": [");
    for (int i = 0; i < 60; i++)
        dw_text_addf(text, "%s{\"name\": \"bit %d\", \"material\": \"half\", \"length\": \"%lld %lld/16\", \"width\": \"1 %lld/8\", \"count\": 2}", i == 0 ? "" : ", ", i,
                     (long long)dice_range(&dice, 5, 7), (long long)dice_range(&dice, 1, 15), (long long)dice_range(&dice, 4, 7));
    dw_text_add(text, "]}");
}

static bool tells_of_marks(const struct dw_shape *shape)
{
    return shape->kind == DW_SHAPE_TEXT && strstr(shape->text, "bear their mark") != NULL;
}

/* Where lines would be too many to follow, pieces bear their mark alone, the note says so, and no margin makes the sheet smaller. */
static void test_very_many_small_parts_bear_their_marks(void **state)
{
    (void)state;
    struct done done = run_thrown(bits_job, 1);
    struct dw_scene scene;
    assert_int_equal(done.status, DW_DONE);
    assert_int_equal(dw_draw_sheet(done.run.purchase, 0, 0, 79200, 61200, done.arena, done.faults, &scene), DW_DONE);
    assert_int_equal(check_scene(&scene), 0);
    assert_int_equal(shapes_of(&scene, tells_of_marks), 1);
    assert_int_equal(shapes_of(&scene, is_leader), 0);
    free_done(&done);
}

/* A large packet (60 drawers, 20 sheets and more) is drawn and written in under two seconds of one core. */
static void test_large_packet_is_quick(void **state)
{
    (void)state;
    static const char LARGE[] =
        "{\"format\": 1, \"name\": \"Large\", \"units\": \"in\", \"shop\": {\"name\": \"large\", \"materials\": ["
        "{\"id\": \"thick\", \"thickness\": \"23/32\", \"sheets\": [{\"id\": \"full\", \"length\": 96, \"width\": 48, \"price\": \"90\"}]},"
        "{\"id\": \"half\", \"thickness\": \"15/32\", \"sheets\": [{\"id\": \"full\", \"length\": 96, \"width\": 48, \"price\": \"60\"}]},"
        "{\"id\": \"thin\", \"thickness\": \"7/32\", \"sheets\": [{\"id\": \"full\", \"length\": 96, \"width\": 48, \"price\": \"40\"}]}],"
        "\"slides\": [{\"id\": \"side\", \"lengths\": [22]}]}, \"cases\": [{\"name\": \"Wall\", \"count\": 3,"
        "\"outside\": {\"width\": 150, \"height\": 60, \"depth\": 24}, \"members\": {\"side\": \"23/32\", \"top\": \"23/32\", \"bottom\": \"23/32\"},"
        "\"slide\": \"side\", \"partition\": \"23/32\", \"front\": {\"material\": \"thick\"},"
        "\"box\": {\"sides\": \"half\", \"bottom\": \"thin\", \"joint\": \"rabbet-and-dado\"},"
        "\"banks\": [{\"drawers\": 5}, {\"drawers\": 4}, {\"drawers\": 5}, {\"drawers\": 6}]}]}";
    struct dw_arena *arena = dw_arena_new();
    struct dw_faults *faults = dw_faults_new();
    const struct dw_job *job = NULL;
    const enum dw_status status = dw_job_read_text(LARGE, strlen(LARGE), "large", NULL, NULL, arena, faults, &job);
    struct done done = run_job(job, arena, faults, status);
    assert_int_equal(done.status, DW_DONE);
    assert_int_equal(done.run.sizings[0]->drawer_count, 60);
    size_t sheets = 0;
    for (size_t m = 0; m < done.run.purchase->layouts->material_count; m++)
        sheets += done.run.purchase->layouts->materials[m].sheet_count;
    assert_true(sheets >= 20);
    const clock_t start = clock();
    const struct dw_scenes pages = packet_of(&done, &everything);
    const char *bytes = NULL;
    size_t length = 0;
    assert_int_equal(dw_scenes_pdf(&pages, "large", done.arena, done.faults, &bytes, &length), DW_DONE);
    const double seconds = (double)(clock() - start) / CLOCKS_PER_SEC;
    print_message("%zu pages, %zu bytes in %.2f s\n", pages.count, length, seconds);
#if !defined(__SANITIZE_ADDRESS__)
    assert_true(seconds < 2.0);
#endif
    assert_int_equal(check_scenes(&pages), 0);
    free_done(&done);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_samples),
        cmocka_unit_test(test_rough_cuts_and_thin_trims),
        cmocka_unit_test(test_random_jobs),
        cmocka_unit_test(test_small_parts_are_led_out),
        cmocka_unit_test(test_very_many_small_parts_bear_their_marks),
        cmocka_unit_test(test_large_packet_is_quick),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
