/* test_drawing.c - the pieces that drawings are made of: text measured against pango, typesetting, breaking and shortening, figures moved apart, the SVG
 * writer, and scenes made by hand held against golden dumps (tests/scenes; DW_UPDATE=1 writes them anew, to be read before they are kept).
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <pango/pangocairo.h>

#include <drawerwright/drawing.h>
#include <drawerwright/memory.h>
#include <drawerwright/run.h>

#include "drawing/cuts.h"
#include "drawing/dimension.h"
#include "drawing/packet.h"
#include "drawing_checks.h"
#include "drawing_fixture.h"
#include "job_from.h"

/* ---- text --------------------------------------------------------------------------------------------------- */

/* Width by pango of plain text in DejaVu Sans, unhinted and without kerning, in dots. */
static double pango_width(const char *text, bool bold, int size)
{
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_A8, 1, 1);
    cairo_t *cairo = cairo_create(surface);
    PangoLayout *layout = pango_cairo_create_layout(cairo);
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    pango_cairo_context_set_font_options(pango_layout_get_context(layout), options);
    pango_cairo_context_set_resolution(pango_layout_get_context(layout), 72);
    pango_context_set_round_glyph_positions(pango_layout_get_context(layout), FALSE);
    PangoFontDescription *font = pango_font_description_from_string(bold ? "DejaVu Sans Bold" : "DejaVu Sans");
    pango_font_description_set_absolute_size(font, size / 100.0 * PANGO_SCALE);
    pango_layout_set_font_description(layout, font);
    PangoAttrList *attributes = pango_attr_list_new();
    pango_attr_list_insert(attributes, pango_attr_font_features_new("kern=0, liga=0, clig=0"));
    pango_layout_set_attributes(layout, attributes);
    pango_layout_set_text(layout, text, -1);
    PangoRectangle extents;
    pango_layout_get_extents(layout, NULL, &extents);
    pango_attr_list_unref(attributes);
    pango_font_description_free(font);
    cairo_font_options_destroy(options);
    g_object_unref(layout);
    cairo_destroy(cairo);
    cairo_surface_destroy(surface);
    return (double)extents.width / PANGO_SCALE * 100.0;
}

/* Source of the truth here: pango and the installed font, which the scenes never see. */
static void test_widths_are_those_of_the_font(void **state)
{
    (void)state;
    static const char *const texts[] = {"Plan chest", "AVAWA Tj.", "0123456789", "~24 1/2", "Äpfel & Öl × …", "берёза",
                                        "ξύλο", "fi ffl", "☐ A-1.8L", "Łódź"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
        for (int bold = 0; bold < 2; bold++) {
            const double ours = (double)dwi_text_width(texts[i], 1000, bold != 0);
            const double theirs = pango_width(texts[i], bold != 0, 1000);
            if (ours < theirs - 6 || ours > theirs + 6)
                fail_msg("\"%s\": %.1f, pango has %.1f", texts[i], ours, theirs);
        }
}

struct guarded {
    struct dw_arena *arena;
    void (*test)(struct dw_arena *arena);
};

static void guarded_body(void *context)
{
    struct guarded *guarded = context;
    guarded->test(guarded->arena);
}

static void in_arena(void (*test)(struct dw_arena *arena))
{
    struct guarded guarded = {.arena = dw_arena_new(), .test = test};
    assert_true(dw_arena_guard(guarded.arena, guarded_body, &guarded));
    dw_arena_free(guarded.arena);
}

#define F "\xE2\x81\x84" /* fraction slash */
#define N "\xE2\x80\xAF" /* narrow space */
#define X "\xC3\x97"     /* times */

static void typeset_rows(struct dw_arena *arena)
{
    static const char *const rows[][2] = {
        {"24 1/2", "24" N "1" F "2"},
        {"24-1/2", "24-1" F "2"},
        {"~9/64 in", "~9" F "64 in"},
        {"12 5/8 x 4", "12" N "5" F "8 " X " 4"},
        {"2 x 40 1/16: A", "2 " X " 40" N "1" F "16: A"},
        {"measures 15/32.", "measures 15" F "32."},
        {"1/3", "1/3"},               /* no inch fraction */
        {"Bench/1/2", "Bench/1/2"},   /* a path */
        {"1/2/3", "1/2/3"},
        {"p1/2", "p1/2"},
        {"3.1/2", "3.1/2"},
        {"7/256", "7/256"},
        {"a x b", "a x b"},
        {"tab\there", "tab?here"},    /* no control characters */
        {"\3771/2", "?1" F "2"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        if (strcmp(dwi_typeset(arena, rows[i][0]), rows[i][1]) != 0)
            fail_msg("\"%s\": \"%s\", wanted \"%s\"", rows[i][0], dwi_typeset(arena, rows[i][0]), rows[i][1]);
}

static void test_typesetting(void **state)
{
    (void)state;
    in_arena(typeset_rows);
}

static void runs_of_a_fraction(struct dw_arena *arena)
{
    struct dwi_runs runs = {.text = dwi_typeset(arena, "24 1/2 in"), .size = 1000};
    struct dwi_run run;
    static const char *const wanted[] = {("24" N), "1", F, "2", " in"};
    dw_dot end = 0;
    for (size_t i = 0; i < 5; i++) {
        assert_true(dwi_next_run(&runs, &run));
        assert_int_equal(run.length, strlen(wanted[i]));
        assert_memory_equal(run.bytes, wanted[i], run.length);
        assert_int_equal(run.x, end);
        assert_true(run.size >= DWI_SMALLEST);
        end = run.x + run.width;
    }
    assert_false(dwi_next_run(&runs, &run));
    assert_int_equal(end, dwi_text_width(dwi_typeset(arena, "24 1/2 in"), 1000, false));
}

static void test_fraction_is_set_in_runs(void **state)
{
    (void)state;
    in_arena(runs_of_a_fraction);
}

static void shorten_rows(struct dw_arena *arena)
{
    static const char *const names[] = {"Tracings and large drawings of the east wing", "Kästchen für die Kammer", "24 1/2 by 31 15/32 by 7", "Комод"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        const char *name = dwi_typeset(arena, names[i]);
        for (dw_dot most = 0; most < 30000; most += 170) {
            const char *shown = dwi_shorten(arena, name, 1000, true, most);
            assert_true(dwi_text_width(shown, 1000, true) <= most || shown[0] == '\0');
            assert_true(dw_utf8_is_clean(shown, strlen(shown)));
            const bool whole = strcmp(shown, name) == 0;
            assert_int_equal(whole, dwi_text_width(name, 1000, true) <= most);
            const size_t length = strlen(shown);
            assert_true(whole || length == 0 || strcmp(shown + length - 3, "\xE2\x80\xA6") == 0);
            assert_true(length < 6 || strncmp(shown + length - 6, F, 3) != 0); /* no fraction is cut */
        }
    }
}

static void test_shortening(void **state)
{
    (void)state;
    in_arena(shorten_rows);
}

static void break_rows(struct dw_arena *arena)
{
    const char *text = dwi_typeset(arena, "a groove 7/32 wide, 24 1/2 long, averyveryverylongwordwithoutanyspace" DWI_BREAK "then more");
    for (dw_dot most = 600; most < 30000; most += 130) {
        size_t characters = 0;
        for (const char *rest = text; rest[0] != '\0';) {
            const char *next = rest;
            const size_t length = dwi_first_line(rest, 1000, false, most, &next);
            assert_true(length > 0 && next > rest);
            const char *line = dw_arena_slice(arena, rest, length);
            assert_true(dw_utf8_is_clean(line, length));
            const bool whole = dw_utf8_count(line) == 1 || strstr(line, F) != NULL; /* a letter, a fraction: never broken */
            assert_true(dwi_text_width(line, 1000, false) <= most || (whole && dw_utf8_count(line) <= 4));
            assert_null(strstr(line, DWI_BREAK));
            for (size_t i = 0; i < length; i++)
                characters += line[i] != ' ';
            rest = next;
        }
        size_t wanted = 0;
        for (const char *at = text; *at != '\0'; at++)
            wanted += *at != ' ';
        assert_int_equal(characters, wanted - 3); /* all but the break */
    }
}

static void test_breaking_into_lines(void **state)
{
    (void)state;
    in_arena(break_rows);
}

/* ---- figures moved apart ------------------------------------------------------------------------------------ */

static void spread_rows(struct dw_arena *arena)
{
    static const struct {
        size_t count;
        dw_dot wish[5], wanted[5];
        dw_dot low, high;
    } rows[] = {
        {3, {100, 200, 300}, {100, 200, 300}, 0, 400},  /* nothing to do */
        {2, {200, 200}, {150, 250}, 0, 400},            /* evenly to both sides */
        {3, {200, 200, 200}, {100, 200, 300}, 0, 400},
        {2, {10, 20}, {50, 150}, 0, 400},               /* kept within the low end */
        {2, {390, 395}, {250, 350}, 0, 400},            /* and the high one */
    };
    const dw_dot sizes[] = {100, 100, 100, 100, 100};
    for (size_t r = 0; r < sizeof rows / sizeof *rows; r++) {
        dw_dot centers[5];
        memcpy(centers, rows[r].wish, sizeof centers);
        assert_true(dwi_spread(arena, centers, sizes, rows[r].count, rows[r].low, rows[r].high));
        for (size_t i = 0; i < rows[r].count; i++)
            assert_int_equal(centers[i], rows[r].wanted[i]);
    }
    dw_dot crowded[] = {10, 20, 30};
    assert_false(dwi_spread(arena, crowded, sizes, 3, 0, 299));
}

static void test_spreading(void **state)
{
    (void)state;
    in_arena(spread_rows);
}

/* ---- one small job ------------------------------------------------------------------------------------------ */

/* "Multi-drawer shop cabinet", workshopprojects.blogspot.com, 23 Feb 2012: drawers of 2, 3, 4, 4 and 5 in an opening of 24-1/2 by 20, 1/4 over and
 * under, 3/8 between, 1/2 at each side; slide center lines from the top 1-1/4, 4-1/8, 8, 12-3/8 and 17-1/4. Its sheets and prices are invented. */
static const char FIVE[] =
    "{\"format\": 1, \"name\": \"Five <drawers> & a \\\"case\\\"\", \"units\": \"in\", \"date\": \"12 May\", " TEST_SHOP ", \"cases\": [{\"name\": \"Case\","
    " \"outside\": {\"width\": 26, \"height\": \"21 1/2\", \"depth\": \"19 1/2\"}, \"fit\": \"inset\", \"slide\": \"side\","
    " \"box\": {\"sides\": \"ply 1/2\", \"bottom\": \"ply 1/4\", \"depth\": \"18 1/2\"}, \"front\": {\"kind\": \"box front\", \"material\": \"ply 1/2\"},"
    " \"members\": {\"side\": \"3/4\", \"top\": \"3/4\", \"bottom\": \"3/4\"},"
    " \"banks\": [{\"name\": \"A\", \"gap\": \"3/8\", \"gap_ends\": \"1/4\", \"gap_sides\": \"1/2\","
    " \"drawers\": [{\"height\": 2}, {\"height\": 3}, {\"height\": 4}, {\"height\": 4}, {\"height\": 5}]}]}]}";

struct small {
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_run run;
};

static struct small small_job(void)
{
    struct small small = {.arena = dw_arena_new(), .faults = dw_faults_new()};
    const struct dw_job *job = job_read(FIVE, small.arena, small.faults);
    if (job == NULL)
        print_faults(small.faults);
    assert_non_null(job);
    const struct dw_layout_options options = {.patience = DW_SHORT};
    const enum dw_status status = dw_run_jobs(&job, 1, DW_STAGE_LAYOUT, &options, NULL, small.arena, small.faults, &small.run);
    if (status != DW_DONE)
        print_faults(small.faults);
    assert_int_equal(status, DW_DONE);
    return small;
}

static void small_free(struct small *small)
{
    dw_arena_free(small->arena);
    dw_faults_free(small->faults);
}

static struct dw_scenes small_packet(struct small *small)
{
    struct dw_scenes pages = {0};
    const struct dw_packet_options options = {.story_stick = true, .labels = true};
    assert_int_equal(dw_draw_packet(small->run.purchase, small->faults, &options, small->arena, small->faults, &pages), DW_DONE);
    return pages;
}

/* From the case floor: 20 less the published heights from the top. */
static void test_story_stick_of_the_shop_cabinet(void **state)
{
    (void)state;
    struct small small = small_job();
    const struct dw_scenes pages = small_packet(&small);
    assert_true(says(&pages, "1: 18" N "3" F "4,  2: 15" N "7" F "8,  3: 12,  4: 7" N "5" F "8,  5: 2" N "3" F "4"));
    static const struct {
        const char *text;
        dw_length height;
    } marks[] = {{"1   18" N "3" F "4", 75 * DW_INCH / 4}, {"3   12", 12 * DW_INCH}, {"5   2" N "3" F "4", 11 * DW_INCH / 4}};
    for (size_t m = 0; m < 3; m++) { /* at full size: so far from the strip's start, nine inches a strip */
        const dw_dot wanted = DWI_MARGIN + dwi_dots(marks[m].height % (9 * DW_INCH), 1);
        bool found = false;
        for (size_t p = 0; p < pages.count; p++)
            for (size_t s = 0; s < pages.at[p].shape_count; s++)
                found = found || (strcmp(pages.at[p].shapes[s].text, marks[m].text) == 0 && pages.at[p].shapes[s].x == wanted);
        if (!found)
            fail_msg("no \"%s\" at %d", marks[m].text, (int)wanted);
    }
    small_free(&small);
}

static void test_every_page_is_marked(void **state)
{
    (void)state;
    struct small small = small_job();
    const struct dw_scenes pages = small_packet(&small);
    char mark[40];
    (void)snprintf(mark, sizeof mark, "plan %s", small.run.purchase->plan_mark);
    for (size_t p = 0; p < pages.count; p++) {
        const struct dw_scenes one = {&pages.at[p], 1};
        assert_true(says(&one, mark));
        assert_true(says(&one, "12 May") || pages.at[p].width < pages.at[p].height); /* labels bear the mark alone */
    }
    assert_int_equal(check_scenes(&pages), 0);
    small_free(&small);
}

static void compare_golden(const char *name, const char *text)
{
    char path[300];
    (void)snprintf(path, sizeof path, "%s/tests/scenes/%s.txt", DW_SOURCE_DIR, name);
    if (getenv("DW_UPDATE") != NULL) {
        FILE *out = fopen(path, "w");
        assert_non_null(out);
        fputs(text, out);
        assert_int_equal(fclose(out), 0);
    }
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    char *wanted = calloc(strlen(text) + 2, 1);
    const size_t length = fread(wanted, 1, strlen(text) + 1, file);
    assert_int_equal(fclose(file), 0);
    const bool same = length == strlen(text) && memcmp(wanted, text, length) == 0;
    free(wanted);
    if (!same)
        fail_msg("the scene differs from %s; if it is meant to, DW_UPDATE=1 and read the difference", path);
}

/* By hand from end to end, so that only a change of drawing shows. */
static void test_golden_scenes(void **state)
{
    (void)state;
    struct drawing_fixture fixture;
    struct dw_arena *arena = dw_arena_new();
    struct dw_faults *faults = dw_faults_new();
    struct dw_scene scene;
    const char *text = NULL;
    drawing_fixture_make(&fixture);
    assert_int_equal(dw_draw_case(&fixture.sizing, 0, 61200, 79200, arena, faults, &scene), DW_DONE);
    assert_int_equal(check_scene(&scene), 0);
    assert_int_equal(dw_scene_dump(&scene, arena, faults, &text), DW_DONE);
    compare_golden("case", text);
    assert_int_equal(dw_draw_box(&fixture.parts, 0, 0, 0, 79200, 61200, arena, faults, &scene), DW_DONE);
    assert_int_equal(check_scene(&scene), 0);
    assert_int_equal(dw_scene_dump(&scene, arena, faults, &text), DW_DONE);
    compare_golden("box", text);
    assert_int_equal(dw_draw_sheet(&fixture.purchase, 0, 0, 72000, 54000, arena, faults, &scene), DW_DONE);
    assert_int_equal(check_scene(&scene), 0);
    assert_int_equal(dw_scene_dump(&scene, arena, faults, &text), DW_DONE);
    compare_golden("sheet", text);
    dw_arena_free(arena);
    dw_faults_free(faults);
}

/* The first cuts by the ladder: the blade runs beside what it takes off. Trimmed 1/4 at the low edge, then 3, then 4 of a sheet 10 wide, kerf 1/8. */
static void first_cuts(struct dw_arena *arena)
{
    struct drawing_fixture fixture;
    drawing_fixture_make(&fixture);
    const struct dwi_sheet_cuts cuts = dwi_sheet_cuts_of(arena, &fixture.material_layout, 0);
    assert_int_equal(cuts.first_count, 2);
    assert_int_equal(cuts.first[0].rung, 2);
    assert_int_equal(cuts.first[0].place, 53 * DW_INCH / 16); /* 1/4 + 3 + half a kerf */
    assert_int_equal(cuts.first[1].rung, 3);
    assert_int_equal(cuts.first[1].place, 119 * DW_INCH / 16); /* 3 3/8 + 4 + half a kerf */
    assert_int_equal(cuts.later_count, 2);
    assert_int_equal(cuts.later[0].rung, 4);
    assert_int_equal(cuts.later[0].cut, DW_CROSSCUT);
    assert_int_equal(cuts.later[0].x, 261 * DW_INCH / 16); /* R begins at 16 3/8: half a kerf before it, where L ends, across the strip of 3 from 1/4 */
    assert_int_equal(cuts.later[0].y, DW_INCH / 4);
    assert_int_equal(cuts.later[0].length, 3 * DW_INCH);
    assert_int_equal(cuts.later[1].rung, 5);
    assert_int_equal(cuts.later[1].x, 297 * DW_INCH / 16); /* 1/4 + 18 1/4 + half a kerf */
}

static void test_first_cuts_follow_the_ladder(void **state)
{
    (void)state;
    in_arena(first_cuts);
}

/* ---- labels ---- */

/* The next large bold text on the pages of labels after *page, *shape; NULL past the last. */
static const char *next_mark(const struct dw_scenes *pages, size_t *page, size_t *shape)
{
    for (; *page < pages->count; ++*page, *shape = 0)
        for (; strcmp(pages->at[*page].title, "Labels") == 0 && *shape < pages->at[*page].shape_count; ++*shape) {
            const struct dw_shape *at = &pages->at[*page].shapes[*shape];
            if (at->kind == DW_SHAPE_TEXT && at->bold && at->size == 1500) {
                ++*shape;
                return at->text;
            }
        }
    return NULL;
}

/* One for every piece, as the pieces come off the saw. */
static void test_labels_follow_the_ladder(void **state)
{
    (void)state;
    struct small small = small_job();
    const struct dw_scenes pages = small_packet(&small);
    const struct dw_layouts *layouts = small.run.purchase->layouts;
    size_t page = 0, shape = 0, labels = 0, pieces = 0;
    for (size_t m = 0; m < layouts->material_count; m++) {
        const struct dw_ladder *ladder = &layouts->materials[m].ladder;
        for (size_t r = 0; r < ladder->rung_count; r++)
            for (size_t c = 0; c < ladder->rungs[r].cut_count; c++) {
                const size_t panels[] = {ladder->rungs[r].cuts[c].off, ladder->rungs[r].cuts[c].rest};
                for (size_t i = 0; i < 2; i++) {
                    if (panels[i] == DW_NO_INDEX || ladder->panels[panels[i]].use != DW_NODE_PART || ladder->rungs[r].kind == DW_LADDER_TRIM)
                        continue;
                    const char *mark = next_mark(&pages, &page, &shape);
                    assert_non_null(mark);
                    assert_string_equal(mark, ladder->panels[panels[i]].name);
                    labels++;
                }
            }
    }
    for (size_t p = 0; p < small.run.parts[0]->count; p++)
        pieces += small.run.parts[0]->at[p].count;
    assert_int_equal(labels, pieces);
    assert_null(next_mark(&pages, &page, &shape));
    small_free(&small);
}

static void test_what_is_not_there(void **state)
{
    (void)state;
    struct small small = small_job();
    struct dw_scene scene;
    assert_int_equal(dw_draw_case(small.run.sizings[0], 1, 1000, 1000, small.arena, small.faults, &scene), DW_INPUT);
    assert_int_equal(dw_draw_sheet(small.run.purchase, 99, 0, 1000, 1000, small.arena, small.faults, &scene), DW_INPUT);
    assert_int_equal(dw_draw_box(small.run.parts[0], 0, 0, 5, 1000, 1000, small.arena, small.faults, &scene), DW_INPUT);
    struct dw_scenes pages;
    const struct dw_packet_options off = {.labels = true, .label_sheet = {.width = 4 * DW_INCH, .height = DW_INCH, .across = 4 * DW_INCH, .down = DW_INCH,
                                                                           .columns = 3, .rows = 10}};
    assert_int_equal(dw_draw_packet(small.run.purchase, NULL, &off, small.arena, small.faults, &pages), DW_INPUT);
    small_free(&small);
}

/* ---- SVG ---------------------------------------------------------------------------------------------------- */

static void test_svg_keeps_text_and_escapes_it(void **state)
{
    (void)state;
    struct small small = small_job();
    struct dw_scene scene;
    const char *bytes = NULL;
    size_t length = 0;
    assert_int_equal(dw_draw_case(small.run.sizings[0], 0, 61200, 79200, small.arena, small.faults, &scene), DW_DONE);
    assert_int_equal(dw_scene_svg(&scene, small.arena, small.faults, &bytes, &length), DW_DONE);
    assert_int_equal(strlen(bytes), length);
    assert_non_null(strstr(bytes, "Five &lt;drawers&gt; &amp; a &quot;case&quot;</text>"));
    assert_non_null(strstr(bytes, "data-address=\"cases[0].banks[0].drawers[2]\""));
    assert_non_null(strstr(bytes, "width=\"612pt\" height=\"792pt\" viewBox=\"0 0 612 792\""));
    assert_null(strstr(bytes, "<drawers>"));
    small_free(&small);
}

/* ---- memory ------------------------------------------------------------------------------------------------- */

/* Every allocation of a packet's scenes, its dump and its SVG is let fail in turn. (The backend cannot be swept: GLib ends the process.) */
static void test_failing_memory(void **state)
{
    (void)state;
    struct small small = small_job();
    const struct dw_packet_options options = {.story_stick = true, .labels = true};
    bool done = false;
    for (size_t n = 1; !done; n++) {
        struct dw_arena *arena = dw_arena_new();
        struct dw_faults *faults = dw_faults_new();
        struct dw_scenes pages = {0};
        const char *bytes = NULL;
        const char *text = NULL;
        size_t length = 0;
        dw_memory_fail_at(n);
        enum dw_status status = dw_draw_packet(small.run.purchase, small.faults, &options, arena, faults, &pages);
        if (status == DW_DONE)
            status = dw_scene_svg(&pages.at[0], arena, faults, &bytes, &length);
        if (status == DW_DONE)
            status = dw_scene_dump(&pages.at[0], arena, faults, &text);
        dw_memory_fail_at(0);
        done = status == DW_DONE;
        assert_true(done || (status == DW_SURROUNDINGS && faults->errors == 1));
        dw_arena_free(arena);
        dw_faults_free(faults);
    }
    small_free(&small);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_widths_are_those_of_the_font),
        cmocka_unit_test(test_typesetting),
        cmocka_unit_test(test_fraction_is_set_in_runs),
        cmocka_unit_test(test_shortening),
        cmocka_unit_test(test_breaking_into_lines),
        cmocka_unit_test(test_spreading),
        cmocka_unit_test(test_story_stick_of_the_shop_cabinet),
        cmocka_unit_test(test_every_page_is_marked),
        cmocka_unit_test(test_golden_scenes),
        cmocka_unit_test(test_first_cuts_follow_the_ladder),
        cmocka_unit_test(test_labels_follow_the_ladder),
        cmocka_unit_test(test_what_is_not_there),
        cmocka_unit_test(test_svg_keeps_text_and_escapes_it),
        cmocka_unit_test(test_failing_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
