/* test_job.c - completing jobs: defaults, what is taken from above, ranges and contradictions. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "job_from.h"

static struct dw_arena *arena;
static struct dw_faults *faults;

static int set_up(void **state)
{
    (void)state;
    arena = dw_arena_new();
    faults = dw_faults_new();
    return arena == NULL || faults == NULL;
}

static int tear_down(void **state)
{
    (void)state;
    dw_arena_free(arena);
    dw_faults_free(faults);
    return 0;
}

#define OPENING "\"opening\": {\"width\": 15, \"height\": \"24 1/2\", \"depth\": 22}"
#define JOB(rest) "{\"units\": \"in\", " TEST_SHOP ", " rest "}"
#define ONE_CASE(rest) JOB("\"cases\": [{\"name\": \"Bench\", " OPENING ", " TEST_MAKE ", " rest "}]")

/* ---- what is not said ------------------------------------------------------------------------------------- */

static void test_plain_job_is_completed(void **state)
{
    (void)state;
    const struct dw_job *job = good_job(ONE_CASE("\"banks\": [{\"drawers\": 4}]"), arena);
    const struct dw_bank *bank = &job->cases[0].banks[0];
    assert_int_equal(bank->drawer_count, 4);
    assert_true(bank->gap == DW_INCH / 8 && bank->gap_ends == DW_INCH / 8);
    assert_true(job->shop.habits.kerf == DW_INCH / 8);
    assert_true(job->shop.habits.reveal_neighbor == DW_INCH / 16);
    assert_true(job->shop.habits.load == 718); /* ANSI/KCMA A161.1: 15 lb/ft2 (718 Pa) */
    assert_string_equal(bank->drawers[3].name, "4");
    assert_true(bank->drawers[0].box.front_material == bank->drawers[0].box.side_material);
    assert_true(bank->drawers[0].front.material == 0);
    assert_int_equal(bank->drawers[0].box.front.joint, DW_RABBET_AND_DADO);
    assert_true(bank->drawers[0].box.groove_depth == DW_INCH / 4); /* one-half the thickness: Router Workshop */
    assert_int_equal(bank->drawers[0].fit.kind, DW_FULL_OVERLAY);
    assert_int_equal(bank->drawers[0].rail_below.kind, DW_RAIL_NONE);
    assert_true(bank->drawers[0].slide == 0);
    assert_true(job->shop.slides[0].clearance == DW_INCH / 2);
    assert_true(job->shop.slides[1].inside_less == 42 * DW_MM); /* 21 mm each side: drawer makers' data sheets */
    assert_int_equal(job->shop.materials[0].grained, DW_GRAINED);
    assert_true(job->shop.materials[0].sheets[0].trim[3] == DW_INCH / 4);
    assert_true(job->shop.materials[0].sheets[0].count == DW_NO_LIMIT);
    assert_true(job->cases[0].side == 3 * DW_INCH / 4 && job->cases[0].free_standing);
}

static void test_metric_job_has_metric_habits(void **state)
{
    (void)state;
    const struct dw_job *job = good_job("{\"units\": \"mm\", \"shop\": {\"materials\": [{\"id\": \"a\", \"thickness\": 12}], \"slides\": [{\"id\": \"s\","
                                        "\"lengths\": [400]}]}, \"cases\": [{\"opening\": {\"width\": 381, \"height\": 600, \"depth\": 550},"
                                        "\"box\": {\"sides\": \"a\", \"bottom\": \"a\"}, \"front\": {\"material\": \"a\"}, \"banks\": [{\"drawers\": 3}]}]}",
                                        arena);
    assert_true(job->shop.habits.gap == 3 * DW_MM);
    assert_true(job->shop.slides[0].clearance == 127 * DW_MM / 10);
    assert_true(job->cases[0].opening_width.at[0] == 381 * DW_MM);
    assert_true(job->cases[0].banks[0].drawers[0].box.groove_depth == 6 * DW_MM);
}

static void test_drawers_take_from_their_case(void **state)
{
    (void)state;
    const struct dw_job *job = good_job(
        JOB("\"cases\": [{" OPENING ", \"style\": \"face frame\", \"slide\": \"under\", \"fit\": {\"kind\": \"lipped\", \"overlay\": \"3/8\"},"
            "\"box\": {\"sides\": \"ply 1/2\", \"bottom\": \"ply 1/4\", \"joint\": {\"joint\": \"half-blind dovetail\", \"lap\": \"1/8\", \"slope\": 6},"
            "\"back_joint\": \"dado\"}, \"front\": {\"material\": \"oak 3/4\", \"matched\": true, \"grain\": \"vertical\"},"
            "\"banks\": [{\"rail\": \"3/4\", \"drawers\": ["
            "{}, {\"fit\": \"inset\", \"box\": {\"joint\": \"finger\"}, \"front\": {\"matched\": false}, \"rail_below\": \"none\"},"
            "{\"rail_below\": {\"kind\": \"dummy\"}, \"box\": {\"sides\": \"ply 3/4\"}}, {\"fit\": {\"overlay\": {\"top\": \"1/4\"}}}]}]}]"),
        arena);
    const struct dw_drawer *drawers = job->cases[0].banks[0].drawers;
    assert_int_equal(drawers[0].fit.kind, DW_LIPPED);
    assert_true(drawers[0].fit.overlay[DW_LEFT] == 3 * DW_INCH / 8 && drawers[0].fit.lip == 3 * DW_INCH / 8);
    assert_int_equal(drawers[0].box.front.slope, 6);
    assert_int_equal(drawers[0].box.back.joint, DW_DADO);
    assert_int_equal(drawers[0].front.matched, DW_YES);
    assert_int_equal(drawers[0].front.grain, DW_GRAIN_VERTICAL);
    assert_true(drawers[0].box.groove_up == DW_INCH / 2); /* the undermount slide's recess */
    assert_int_equal(drawers[0].rail_below.kind, DW_RAIL_REAL);
    assert_true(drawers[0].rail_below.height == 3 * DW_INCH / 4);
    /* a joint, fit or rail of its own takes no figures of the case's */
    assert_int_equal(drawers[1].fit.kind, DW_INSET);
    assert_true(drawers[1].fit.overlay[DW_LEFT] == DW_LENGTH_UNSET);
    assert_int_equal(drawers[1].box.front.joint, DW_FINGER);
    assert_true(drawers[1].box.front.lap == DW_LENGTH_UNSET);
    assert_int_equal(drawers[1].box.back.joint, DW_FINGER);
    assert_int_equal(drawers[1].front.matched, DW_NO);
    assert_int_equal(drawers[1].rail_below.kind, DW_RAIL_NONE);
    assert_true(drawers[1].rail_below.height == 0);
    assert_int_equal(drawers[2].rail_below.kind, DW_RAIL_DUMMY);
    assert_true(drawers[2].rail_below.height == 3 * DW_INCH / 4);
    assert_true(drawers[2].box.side_material == 0 && drawers[2].box.back_material == 0 && drawers[2].box.bottom_material == 2);
    assert_int_equal(drawers[3].fit.kind, DW_OVERLAY);
    assert_true(drawers[3].fit.overlay[DW_TOP] == DW_INCH / 4 && drawers[3].fit.overlay[DW_LEFT] == DW_INCH / 2);
    assert_int_equal(drawers[3].rail_below.kind, DW_RAIL_NONE);
}

static void test_heights_in_every_form(void **state)
{
    (void)state;
    const struct dw_job *job = good_job(
        ONE_CASE("\"banks\": [{\"graduation\": {\"step\": 1}, \"drawers\": [{\"height\": \"5 3/4\"}, {\"height\": {\"share\": 2}}, {\"height\": {\"inside\": 9}},"
                 "{\"height\": {\"system_32\": 7}}, {\"height\": \"graduated\"}, {}, {\"height\": {\"share\": 1}}, {\"height\": 4.5}]}, {\"drawers\": [{}]}]"),
        arena);
    const struct dw_drawer *drawers = job->cases[0].banks[0].drawers;
    static const enum dw_height_rule rules[] = {DW_HEIGHT_FIXED,     DW_HEIGHT_SHARE,     DW_HEIGHT_INSIDE, DW_HEIGHT_SYSTEM_32,
                                                DW_HEIGHT_GRADUATED, DW_HEIGHT_GRADUATED, DW_HEIGHT_SHARE, DW_HEIGHT_FIXED};
    for (size_t i = 0; i < sizeof rules / sizeof *rules; i++)
        assert_int_equal(drawers[i].height.rule, rules[i]);
    assert_true(drawers[0].height.length == 23 * DW_INCH / 4 && drawers[1].height.weight == 2 && drawers[3].height.modules == 7);
    assert_true(drawers[7].height.length == 9 * DW_INCH / 2);
    assert_int_equal(job->cases[0].banks[1].drawers[0].height.rule, DW_HEIGHT_SHARE);
    assert_int_equal(job->cases[0].banks[0].graduation, DW_GRADUATED_STEP);
}

/* Every default in the tables can be read, in both units, and lies within the limits of its row: a job that says nothing of its shop's
 * habits, and a slide of every kind that says nothing but its name, are good. */
static void test_all_defaults_are_good(void **state)
{
    (void)state;
    static const char *const units[] = {"in", "mm"};
    for (size_t u = 0; u < 2; u++) {
        char text[2048];
        (void)snprintf(text, sizeof text,
                       "{\"units\": \"%s\", \"shop\": {\"materials\": [{\"id\": \"a\", \"thickness\": \"12 mm\"}], \"saws\": [{}], \"hardware\": [{\"id\": \"h\"}],"
                       "\"banding\": [{\"id\": \"b\", \"thickness\": \"0.5 mm\"}], \"suppliers\": [{\"name\": \"s\"}], \"slides\": ["
                       "{\"id\": \"1\", \"lengths\": [\"400 mm\"]}, {\"id\": \"2\", \"kind\": \"undermount\", \"lengths\": [\"400 mm\"]},"
                       "{\"id\": \"3\", \"kind\": \"center-mount\", \"lengths\": [\"400 mm\"]}, {\"id\": \"4\", \"kind\": \"runner\"},"
                       "{\"id\": \"5\", \"kind\": \"hand-fitted\"}]}, \"parts\": [{\"name\": \"p\", \"material\": \"a\", \"length\": \"500 mm\", \"width\": \"100 mm\"}]}",
                       units[u]);
        const struct dw_job *job = good_job(text, arena);
        const struct dw_job *again = NULL;
        assert_int_equal(dw_job_complete(job, arena, faults, &again), DW_DONE); /* completing a complete job finds nothing wrong */
        assert_int_equal(faults->count, 0);
    }
}

struct listing {
    const struct dw_default *at;
    size_t count;
};

static void list_body(void *context)
{
    struct listing *listing = context;
    listing->at = dw_job_defaults(arena, &listing->count);
}

static void test_defaults_are_listed_with_their_reasons(void **state)
{
    (void)state;
    size_t count = 0;
    size_t gaps = 0;
    struct listing listing = {.count = 0};
    assert_true(dw_arena_guard(arena, list_body, &listing));
    const struct dw_default *defaults = listing.at;
    count = listing.count;
    for (size_t i = 0; i < count; i++) {
        assert_non_null(defaults[i].inch);
        assert_non_null(defaults[i].metric);
        assert_true(defaults[i].meaning[0] != '\0');
        if (strcmp(defaults[i].address, "shop.habits.gap") == 0) {
            gaps++;
            assert_string_equal(defaults[i].inch, "1/8");
            assert_string_equal(defaults[i].metric, "3");
        }
    }
    assert_int_equal(gaps, 1);
    assert_true(count > 100);
}

/* ---- what is wrong ---------------------------------------------------------------------------------------- */

struct bad_job {
    const char *name;
    const char *json;
    const char *faults[8]; /* "code address", in any order; nothing else may be found */
};

static const struct bad_job bad_jobs[] = {
    {"millimeters typed in an inch job",
     JOB("\"cases\": [{\"opening\": {\"width\": 622, \"height\": 24, \"depth\": 22}, " TEST_MAKE ", \"banks\": [{\"drawers\": 2}]}]"),
     {"out-of-range cases[0].opening.width[0]"}},
    {"inches typed in a millimeter job",
     "{\"units\": \"mm\", \"shop\": {\"materials\": [{\"id\": \"a\", \"thickness\": 0.75}]}, \"parts\": [{\"name\": \"p\", \"material\": \"a\", \"length\": 500,"
     "\"width\": 100}]}",
     {"out-of-range shop.materials[0].thickness"}},
    {"inches typed in a millimeter shop of an inch job",
     "{\"units\": \"in\", \"shop\": {\"units\": \"mm\", \"materials\": [{\"id\": \"a\", \"thickness\": 0.5}]}, \"parts\": [{\"name\": \"p\", \"material\": \"a\","
     "\"length\": 20, \"width\": 10, \"count\": 20001}]}",
     {"out-of-range shop.materials[0].thickness", "too-many parts"}},
    {"no thickness", "{\"units\": \"in\", \"shop\": {\"materials\": [{\"id\": \"a\", \"thickness\": 0}, {\"id\": \"b\"}]}, \"parts\": [{\"name\": \"p\","
     "\"material\": \"a\", \"length\": 20, \"width\": 10}]}",
     {"out-of-range shop.materials[0].thickness", "missing shop.materials[1].thickness"}},
    {"measured, and the outside not whole", ONE_CASE("\"outside\": {\"width\": 30, \"depth\": 24}, \"banks\": [{\"drawers\": 2}]"),
     {"missing cases[0].outside.height"}},
    {"size missing", JOB("\"cases\": [{\"outside\": {\"width\": 30}, " TEST_MAKE ", \"banks\": [{\"drawers\": 2}]}]"),
     {"missing cases[0].outside.height", "missing cases[0].outside.depth"}},
    {"no size at all", JOB("\"cases\": [{" TEST_MAKE ", \"banks\": [{\"drawers\": 2}]}]"),
     {"missing cases[0].opening.width", "missing cases[0].opening.height", "missing cases[0].opening.depth"}},
    {"nothing asked", JOB("\"note\": \"x\""), {"nothing-asked cases"}},
    {"nothing to make drawers of", JOB("\"cases\": [{" OPENING ", \"banks\": [{\"drawers\": 9}]}]"),
     {"missing cases[0].box.sides", "missing cases[0].box.bottom", "missing cases[0].front.material"}},
    {"no slide", "{\"shop\": {\"materials\": [{\"id\": \"a\", \"thickness\": 1}]}, \"cases\": [{" OPENING ", \"box\": {\"sides\": \"a\", \"bottom\": \"a\"},"
     "\"front\": {\"material\": \"a\"}, \"banks\": [{\"drawers\": 1}]}]}",
     {"missing cases[0].slide"}},
    {"no drawers", ONE_CASE("\"banks\": [{\"name\": \"a\"}, {\"drawers\": []}]"), {"missing cases[0].banks[0].drawers", "missing cases[0].banks[1].drawers"}},
    {"five hundred drawers", ONE_CASE("\"banks\": [{\"drawers\": 500}]"), {"too-many cases[0].banks[0].drawers"}},
    {"too many in all", ONE_CASE("\"count\": 50, \"banks\": [{\"drawers\": 41}]"), {"too-many cases"}},
    {"no count", ONE_CASE("\"count\": 0, \"banks\": [{\"drawers\": 1}]"), {"out-of-range cases[0].count"}},
    {"one diagonal", ONE_CASE("\"banks\": [{\"drawers\": 1, \"diagonals\": 30}]"), {"diagonals cases[0].banks[0].diagonals"}},
    {"graduated by nothing", ONE_CASE("\"banks\": [{\"drawers\": [{\"height\": \"graduated\"}, {}]}]"), {"no-graduation cases[0].banks[0].drawers[0].height"}},
    {"divider without a rail", ONE_CASE("\"banks\": [{\"graduation\": \"divider\", \"drawers\": 3}]"), {"missing cases[0].banks[0].graduation"}},
    {"freed into no drawer", ONE_CASE("\"banks\": [{\"freed\": {\"drawer\": 4}, \"drawers\": 3}]"), {"no-such-drawer cases[0].banks[0].freed.drawer"}},
    {"lip as thick as the front", ONE_CASE("\"fit\": {\"kind\": \"lipped\", \"lip\": \"3/4\"}, \"banks\": [{\"drawers\": 1}]"),
     {"lip-too-thick cases[0].banks[0].drawers[0].fit.lip"}},
    {"box heights crossed", ONE_CASE("\"banks\": [{\"drawers\": [{\"box\": {\"height_least\": 6, \"height_most\": 4}}]}]"),
     {"out-of-order cases[0].banks[0].drawers[0].box.height"}},
    {"names used twice", JOB("\"cases\": [{\"name\": \"A\", " OPENING ", " TEST_MAKE ", \"banks\": [{\"name\": \"x\", \"drawers\": [{\"name\": \"d\"}, {\"name\": \"d\"}]},"
                             "{\"name\": \"x\", \"drawers\": 1}]}, {\"name\": \"A\", " OPENING ", " TEST_MAKE ", \"banks\": [{\"drawers\": 1}]}]"),
     {"used-twice cases[0].banks[0].drawers[1].name", "used-twice cases[0].banks[1].name", "used-twice cases[1].name"}},
    {"a shop at odds with itself",
     "{\"shop\": {\"habits\": {\"box_less_least\": 3, \"box_less\": 2}, \"materials\": [{\"id\": \"a\", \"thickness\": 1, \"sheets\": ["
     "{\"id\": \"s\", \"length\": 20, \"width\": 10, \"price\": 5, \"trim\": 6, \"breaks\": [{\"from\": 5, \"price\": 4}, {\"from\": 5, \"price\": 3}]},"
     "{\"id\": \"s\", \"length\": 20, \"width\": 10}]}, {\"id\": \"a\", \"thickness\": 1}], \"slides\": [{\"id\": \"s\"}, {\"id\": \"t\", \"lengths\": [14, 12]}]},"
     "\"parts\": [{\"name\": \"p\", \"material\": \"a\", \"length\": 5, \"width\": 5}]}",
     {"out-of-order shop.habits.box_less", "all-trim shop.materials[0].sheets[0].trim", "out-of-order shop.materials[0].sheets[0].breaks",
      "used-twice shop.materials[0].sheets[1].id", "missing shop.materials[0].sheets[1].price", "used-twice shop.materials[1].id",
      "missing shop.slides[0].lengths", "out-of-order shop.slides[1].lengths[1]"}},
};

static bool has_fault(const char *wanted)
{
    for (size_t i = 0; i < faults->count; i++) {
        char found[256];
        (void)snprintf(found, sizeof found, "%s %s", faults->at[i].code, faults->at[i].address);
        if (strcmp(found, wanted) == 0)
            return true;
    }
    return false;
}

/* Each bad job gives exactly its faults, each with a cure. */
static void test_bad_jobs_are_told_all_at_once(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof bad_jobs / sizeof *bad_jobs; i++) {
        assert_null(job_from(bad_jobs[i].json, arena, faults));
        size_t wanted = 0;
        bool all = true;
        for (; wanted < 8 && bad_jobs[i].faults[wanted] != NULL; wanted++)
            all = has_fault(bad_jobs[i].faults[wanted]) && all;
        for (size_t k = 0; k < faults->count; k++)
            all = faults->at[k].cure[0] != '\0' && all;
        if (!all || faults->count != wanted) {
            print_faults(faults);
            fail_msg("%s: %zu faults wanted", bad_jobs[i].name, wanted);
        }
        assert_int_equal(faults->status, DW_INPUT);
        dw_faults_free(faults);
        faults = dw_faults_new();
    }
}

/* 622 is over 15 m in inches; the maker most likely meant millimeters. */
static void test_the_other_unit_is_asked_about(void **state)
{
    (void)state;
    assert_null(job_from(bad_jobs[0].json, arena, faults));
    assert_string_equal(faults->at[0].wrong, "622 in is over 15 m");
    assert_string_equal(faults->at[0].cure, "did you mean 622 mm?");
    assert_null(job_from(bad_jobs[1].json, arena, faults));
    assert_string_equal(faults->at[1].wrong, "0.75 mm is under 1 mm");
    assert_string_equal(faults->at[1].cure, "did you mean 3/4 in?");
    assert_null(job_from(bad_jobs[2].json, arena, faults));
    assert_string_equal(faults->at[2].cure, "did you mean 1/2 in?");
}

static void test_warnings_let_the_job_go_on(void **state)
{
    (void)state;
    const struct dw_job *job =
        job_from("{\"shop\": {\"suppliers\": [{\"name\": \"a\"}], \"materials\": [{\"id\": \"a\", \"thickness\": 1, \"sheets\": [{\"id\": \"s\", \"length\": 90,"
                 "\"width\": 40, \"price\": 5, \"supplier\": \"b\"}]}], \"slides\": [{\"id\": \"h\", \"kind\": \"hand-fitted\"}]}, \"cases\": [{" OPENING ","
                 "\"box\": {\"sides\": \"a\", \"bottom\": \"a\"}, \"front\": {\"material\": \"a\"}, \"banks\": [{\"drawers\": [{}, {\"rail_below\": \"3/4\"}]}]}]}",
                 arena, faults);
    assert_non_null(job);
    assert_int_equal(faults->warnings, 2);
    assert_true(has_fault("unknown-supplier shop.materials[0].sheets[0].supplier"));
    assert_true(has_fault("rail-below-lowest cases[0].banks[0].drawers[1].rail_below"));
}

/* ---- made in C, and without memory ------------------------------------------------------------------------- */

static void test_jobs_made_in_c(void **state)
{
    (void)state;
    struct dw_job *job = dw_job_new(arena, DW_IN);
    CLEARED(dw_material, dw_material_object, ply);
    CLEARED(dw_extra, dw_extra_object, shelf);
    const struct dw_job *complete = NULL;
    ply.id = "ply";
    ply.thickness = DW_INCH / 2;
    shelf.name = "shelf";
    shelf.material = 0;
    shelf.length = 20 * DW_INCH;
    shelf.width = 10 * DW_INCH;
    job->shop.materials = &ply;
    job->shop.material_count = 1;
    job->extras = &shelf;
    job->extra_count = 1;
    assert_int_equal(dw_job_complete(job, arena, faults, &complete), DW_DONE);
    assert_true(complete->extras[0].count == 1);
    assert_true(shelf.count == DW_UNSET); /* what was given is left as it was */
    shelf.material = 3;
    assert_int_equal(dw_job_complete(job, arena, faults, &complete), DW_INPUT);
    assert_null(complete);
    assert_true(has_fault("unknown-material parts[0].material"));
}

/* What a file cannot say but a program can: places past the end of a list, rules without their figure. */
static void test_jobs_made_in_c_may_be_wrong(void **state)
{
    (void)state;
    struct dw_job *job = dw_job_new(arena, DW_IN);
    CLEARED(dw_material, dw_material_object, ply);
    CLEARED(dw_slide, dw_slide_object, slide);
    CLEARED(dw_case, dw_case_object, one);
    CLEARED(dw_bank, dw_bank_object, bank);
    struct dw_drawer drawers[3];
    for (size_t i = 0; i < 3; i++)
        dw_object_clear(&dw_drawer_object, &drawers[i]);
    const dw_length sizes[] = {24 * DW_INCH};
    ply.id = "ply";
    ply.thickness = DW_INCH / 2;
    slide.id = "side";
    job->shop.materials = &ply;
    job->shop.material_count = 1;
    job->shop.slides = &slide;
    job->shop.slide_count = 1;
    one.opening_width = one.opening_height = one.opening_depth = (struct dw_readings){.at = sizes, .count = 1};
    one.box.side_material = one.box.bottom_material = one.front.material = 0;
    one.slide = 7;
    drawers[0].height.rule = DW_HEIGHT_FIXED;
    drawers[1].height.rule = DW_HEIGHT_SYSTEM_32;
    drawers[2].slide = 3;
    bank.graduation = DW_GRADUATED_RATIO;
    bank.drawers = drawers;
    bank.drawer_count = 3;
    one.banks = &bank;
    one.bank_count = 1;
    job->cases = &one;
    job->case_count = 1;
    const struct dw_job *complete = NULL;
    assert_int_equal(dw_job_complete(job, arena, faults, &complete), DW_INPUT);
    assert_null(complete);
    static const char *const wanted[] = {"missing cases[0].banks[0].drawers[0].height", "missing cases[0].banks[0].drawers[1].height",
                                         "unknown-slide cases[0].banks[0].drawers[2].slide", "missing cases[0].banks[0].graduation",
                                         "unknown-slide cases[0].slide"};
    for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++)
        if (!has_fault(wanted[i])) {
            print_faults(faults);
            fail_msg("not told: %s", wanted[i]);
        }
}

static void test_completing_survives_failing_memory(void **state)
{
    (void)state;
    const struct dw_job *job = job_read(ONE_CASE("\"banks\": [{\"drawers\": 4}]"), arena, faults);
    size_t n = 1;
    for (;; n++) {
        struct dw_arena *own = dw_arena_new();
        struct dw_faults *found = dw_faults_new();
        const struct dw_job *complete = NULL;
        dw_memory_fail_at(n);
        const enum dw_status status = dw_job_complete(job, own, found, &complete);
        dw_memory_fail_at(0);
        assert_int_equal(status == DW_DONE, complete != NULL);
        assert_true(status == DW_DONE || status == DW_SURROUNDINGS);
        dw_faults_free(found);
        dw_arena_free(own);
        if (status == DW_DONE)
            break;
    }
    assert_true(n > 3);
    struct dw_arena *own = dw_arena_new();
    dw_memory_fail_at(1);
    const struct dw_job *none = dw_job_new(own, DW_IN);
    dw_memory_fail_at(0);
    assert_null(none);
    dw_arena_free(own);
}

static void test_readings(void **state)
{
    (void)state;
    const dw_length at[] = {15 * DW_INCH, 14 * DW_INCH, 16 * DW_INCH};
    const struct dw_readings readings = {.at = at, .count = 3};
    assert_true(dw_readings_least(readings) == 14 * DW_INCH);
    assert_true(dw_readings_most(readings) == 16 * DW_INCH);
    assert_true(dw_readings_least((struct dw_readings){.count = 0}) == DW_LENGTH_UNSET);
}

/* 1 lb = 453.592 37 g, 1 lbf/in2 = 6 894.757 Pa, 1 lb/ft3 = 16.018 46 kg/m3: NIST Special Publication 811, Appendix B (from memory);
 * 15 lb/ft2 is 718 Pa in ANSI/KCMA A161.1. */
static void test_amounts(void **state)
{
    (void)state;
    int64_t amount = 0;
    assert_true(dw_mass_parse("100 lb", &amount, NULL) && amount == 45359237);
    assert_true(dw_mass_parse("45 kg", &amount, NULL) && amount == 45000000);
    assert_true(dw_pressure_parse("15 lb/ft2", &amount, NULL) && amount == 718);
    assert_true(dw_pressure_parse("1240000 psi", &amount, NULL) && amount / 1240 == 6894757);
    assert_true(dw_pressure_parse("8 GPa", &amount, NULL) && amount == INT64_C(8000000000));
    assert_true(dw_density_parse("680 kg/m3", &amount, NULL) && amount == 680000);
    assert_true(dw_density_parse("42 lb/ft3", &amount, NULL) && amount == 672775);
    assert_true(dw_percent_parse("8.25 %", &amount, NULL) && amount == 82500);
    assert_true(dw_percent_parse("8,25%", &amount, NULL) && amount == 82500);
    static const char *const bad[] = {"", "kg", "1", "1 stone", "-1 kg", "1..5 kg", "1. kg", "1 kg 2", "99999999999999999 kg", "1e3 kg", "1.0000000001 kg"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        assert_false(dw_mass_parse(bad[i], &amount, NULL));
    assert_false(dw_pressure_parse("15", &amount, NULL));
}

#define EACH(test) cmocka_unit_test_setup_teardown(test, set_up, tear_down)

int main(void)
{
    const struct CMUnitTest tests[] = {
        EACH(test_plain_job_is_completed),
        EACH(test_metric_job_has_metric_habits),
        EACH(test_drawers_take_from_their_case),
        EACH(test_heights_in_every_form),
        EACH(test_all_defaults_are_good),
        EACH(test_defaults_are_listed_with_their_reasons),
        EACH(test_bad_jobs_are_told_all_at_once),
        EACH(test_the_other_unit_is_asked_about),
        EACH(test_warnings_let_the_job_go_on),
        EACH(test_jobs_made_in_c),
        EACH(test_jobs_made_in_c_may_be_wrong),
        EACH(test_completing_survives_failing_memory),
        EACH(test_readings),
        EACH(test_amounts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
