/* test_files.c - jobs from files: the samples, everything that can be wrong with a file, changes by address, lists of parts as CSV. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include <drawerwright/plan.h>
#include <drawerwright/text.h>

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

static void fresh_faults(void)
{
    dw_faults_free(faults);
    faults = dw_faults_new();
    assert_non_null(faults);
}

/* ---- samples ---------------------------------------------------------------------------------------------- */

static const char *const samples[] = {"plan-chest", "seed-cabinet", "service-bench"};
enum { SAMPLES = sizeof samples / sizeof *samples };

static const struct dw_job *sample(size_t i)
{
    char path[512];
    const struct dw_job *job = NULL;
    const struct dw_job *complete = NULL;
    (void)snprintf(path, sizeof path, "%s/samples/%s.json", DW_SOURCE_DIR, samples[i]);
    if (dw_job_read_file(path, NULL, arena, faults, &job) == DW_DONE)
        (void)dw_job_complete(job, arena, faults, &complete);
    print_faults(faults);
    return complete;
}

static void test_samples_are_good(void **state)
{
    (void)state;
    for (size_t i = 0; i < SAMPLES; i++) {
        const struct dw_job *job = sample(i);
        assert_non_null(job);
        assert_string_equal(job->id, samples[i]);
        assert_int_equal(faults->count, 0);
    }
}

struct writing {
    const struct dw_job *job;
    struct dw_text text;
};

static void write_body(void *context)
{
    struct writing *writing = context;
    writing->text = dw_text_in(arena);
    (void)dw_json_job(writing->job, &writing->text);
}

static const char *written(const struct dw_job *job)
{
    struct writing writing = {.job = job};
    assert_true(dw_arena_guard(arena, write_body, &writing));
    return writing.text.bytes;
}

/* A completed job written, read and completed again is written the same. */
static void test_completed_jobs_go_round(void **state)
{
    (void)state;
    for (size_t i = 0; i < SAMPLES; i++) {
        const char *first = written(sample(i));
        const struct dw_job *again = job_from(first, arena, faults);
        print_faults(faults);
        assert_non_null(again);
        assert_string_equal(first, written(again));
    }
}

/* A job with every odd value goes round too: lengths that are exact in one unit only, readings, own rails, fits, joints, heights. */
static void test_odd_values_go_round(void **state)
{
    (void)state;
    const struct dw_job *job = good_job(
        "{\"units\": \"in\", \"note\": \"a \\\"quoted\\\" \\\\ note \\u00bd\", " TEST_SHOP
        ", \"cases\": [{\"opening\": {\"width\": [15, \"381.0005 mm\"], \"height\": 30, \"depth\": 22, \"diagonals\": [34, \"34 1/128\"]}, " TEST_MAKE
        ", \"banks\": [{\"freed\": {\"drawer\": 2}, \"drawers\": [{\"height\": {\"inside\": 4}, \"load\": \"40 lb\"}, {\"height\": {\"system_32\": 4},"
        "\"rail_below\": {\"kind\": \"dummy\", \"height\": \"1/2\"}}, {\"fit\": {\"kind\": \"lipped\", \"overlay\": {\"top\": \"1/4\"}, \"lip\": \"1/4\"},"
        "\"box\": {\"joint\": {\"joint\": \"finger\", \"pitch\": \"1/4\"}}}, {\"fill\": \"door\"}]}, {\"graduation\": {\"ratio\": \"120 %\"}, \"drawers\": 2}]}]}",
        arena);
    const char *first = written(job);
    assert_non_null(strstr(first, "\"381.0005 mm\""));
    assert_string_equal(first, written(good_job(first, arena)));
}

/* ---- texts that are no JSON ------------------------------------------------------------------------------- */

struct bad_text {
    const char *text;
    size_t length; /* 0: up to the NUL */
    const char *place;
};

static const struct bad_text bad_texts[] = {
    {"", 0, "line 1, column 1: the file ends too early"},
    {"{", 0, "line 1, column 2"},
    {"{\n  \"name\": \"x\",\n  \"date\": 1 2}", 0, "line 3, column 13: expected a comma or }"},
    {"{\"a\": 01}", 0, "line 1, column 8: expected no leading zeros"},
    {"{\"a\": 1.}", 0, "line 1, column 9: expected a digit"},
    {"{\"a\": .5}", 0, "line 1, column 7: expected a value"},
    {"{\"a\": +5}", 0, "line 1, column 7: expected a value"},
    {"{\"a\": NaN}", 0, "line 1, column 7: expected a value"},
    {"{\"a\": -Infinity}", 0, "line 1, column 8: expected a digit"},
    {"{\"a\": nul}", 0, "line 1, column 7: expected a value"},
    {"{\"a\": \"x\ny\"}", 0, "line 1, column 9: the string has no end"},
    {"{\"a\": \"x\ty\"}", 0, "line 1, column 9: control characters"},
    {"{\"a\": \"\\u0000\"}", 0, "line 1, column 9: control characters"},
    {"{\"a\": \"\\u0001" "5\"}", 0, "line 1, column 9: control characters"},
    {"{\"a\": \"\\n\"}", 0, "line 1, column 9: control characters"},
    {"{\"a\": \"\\ud800\"}", 0, "line 1, column 9: half of a character"},
    {"{\"a\": \"\\udc00\\ud800\"}", 0, "line 1, column 9: half of a character"},
    {"{\"a\": \"\\ud800\\u0041\"}", 0, "line 1, column 9: half of a character"},
    {"{\"a\": \"\\x\"}", 0, "line 1, column 9: no such escape"},
    {"{\"a\": \"\\u12G4\"}", 0, "line 1, column 9: expected four hexadecimal digits"},
    {"{\"a\": 1}}", 0, "line 1, column 9: expected nothing behind the end"},
    {"{\"a\": 1,}", 0, "line 1, column 9: expected a string"},
    {"{'a': 1}", 0, "line 1, column 2: expected a string"},
    {"{\"a\" 1}", 0, "line 1, column 6: expected a colon"},
    {"[1, 2", 0, "line 1, column 6: expected a comma or ]"},
    {"// comment\n{}", 0, "line 1, column 1: expected a value"},
    {"{\"name\": \"\xC2\xBD\xFF\"}", 0, "line 1, column 12: not a character of UTF-8"},
    {"{\n\"a\": \"\xED\xA0\x80\"}", 0, "line 2, column 7: not a character of UTF-8"},
    {"{\"a\": \"b\0c\"}", 12, "line 1, column 9: not a character of UTF-8"},
    {"\xFF\xFE{\0}\0", 6, "line 1, column 1: not a character of UTF-8"},
};

static void test_texts_that_are_no_json(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof bad_texts / sizeof *bad_texts; i++) {
        const struct dw_job *job = NULL;
        const size_t length = bad_texts[i].length != 0 ? bad_texts[i].length : strlen(bad_texts[i].text);
        assert_int_equal(dw_job_read_text(bad_texts[i].text, length, "t", NULL, NULL, arena, faults, &job), DW_INPUT);
        assert_null(job);
        assert_int_equal(faults->count, 1);
        if (strncmp(faults->at[0].wrong, bad_texts[i].place, strlen(bad_texts[i].place)) != 0)
            fail_msg("row %zu: got \"%s\", wanted \"%s\"", i, faults->at[0].wrong, bad_texts[i].place);
        fresh_faults();
    }
}

/* What a person most often gets wrong in JSON is told by its name. */
static void test_slips_have_their_cure(void **state)
{
    (void)state;
    static const struct {
        const char *text, *cure;
    } rows[] = {
        {"", "a file that is not empty"}, {"{\"name\": \"a\",\n}", "no comma behind the last entry"}, {"[1, 2, ]", "no comma behind the last entry"},
        {"{\"format\": 1, // mine\n}", "no comments"}, {"{'format': 1}", "double quotes round"}, {"{format: 1}", "double quotes round"},
        {"{\"width\": NaN}", "double quotes round"}, {"{\"name\": \"K\xE4sten\"}", "the file saved as plain text in UTF-8"}, {"{\"a\": 1", "a file in JSON"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct dw_job *job = NULL;
        assert_int_equal(dw_job_read_text(rows[i].text, strlen(rows[i].text), "t", NULL, NULL, arena, faults, &job), DW_INPUT);
        if (strstr(faults->at[0].cure, rows[i].cure) == NULL)
            fail_msg("%s: the cure is %s", rows[i].text, faults->at[0].cure);
        fresh_faults();
    }
}

/* n opening brackets, and as many closing ones. */
static char *nested(size_t n)
{
    char *text = malloc(2 * n + 1);
    assert_non_null(text);
    memset(text, '[', n);
    memset(text + n, ']', n);
    text[2 * n] = '\0';
    return text;
}

static void test_depth_and_size_are_bounded(void **state)
{
    (void)state;
    const struct dw_job *job = NULL;
    static const size_t depths[] = {DW_DEPTH_MOST + 1, 1001, 1000000};
    for (size_t i = 0; i < sizeof depths / sizeof *depths; i++) {
        char *text = nested(depths[i]);
        assert_int_equal(dw_job_read_text(text, 2 * depths[i], "t", NULL, NULL, arena, faults, &job), DW_INPUT);
        assert_non_null(strstr(faults->at[0].wrong, "nested too deeply"));
        free(text);
        fresh_faults();
    }
    char *text = nested(DW_DEPTH_MOST);
    assert_int_equal(dw_job_read_text(text, strlen(text), "t", NULL, NULL, arena, faults, &job), DW_INPUT);
    assert_string_equal(faults->at[0].code, "wrong-type"); /* JSON, but an array is no job */
    free(text);
    fresh_faults();
    char *huge = calloc(DW_FILE_MOST + 1, 1);
    assert_non_null(huge);
    memset(huge, ' ', DW_FILE_MOST + 1);
    assert_int_equal(dw_job_read_text(huge, DW_FILE_MOST + 1, "t", NULL, NULL, arena, faults, &job), DW_INPUT);
    assert_string_equal(faults->at[0].code, "too-large");
    free(huge);
}

/* 170 kB that ask for ten million drawers. */
static void test_short_files_cannot_ask_for_endless_memory(void **state)
{
    (void)state;
    enum { BANKS = 10000 };
    char *text = malloc(BANKS * 20 + 200);
    assert_non_null(text);
    char *at = text + sprintf(text, "{\"shop\": {}, \"cases\": [{\"banks\": [");
    for (int i = 0; i < BANKS; i++)
        at += sprintf(at, "%s{\"drawers\": 1000}", i == 0 ? "" : ",");
    (void)strcpy(at, "]}]}");
    const struct dw_job *job = job_read(text, arena, faults);
    free(text);
    assert_null(job);
    assert_string_equal(faults->at[0].code, "too-many");
    assert_true(dw_arena_held(arena) < (size_t)128 << 20);
}

static void test_a_mark_before_the_text_is_skipped(void **state)
{
    (void)state;
    assert_non_null(good_job("\xEF\xBB\xBF{" TEST_SHOP ", \"parts\": [{\"name\": \"a\", \"material\": \"ply 1/2\", \"length\": 9, \"width\": 9}]}", arena));
}

/* ---- jobs that are wrong ---------------------------------------------------------------------------------- */

#define PARTS(part) "{" TEST_SHOP ", \"parts\": [" part "]}"
#define PART(more) "{\"name\": \"a\", \"material\": \"ply 1/2\", \"length\": 9, \"width\": 9" more "}"

struct bad_file {
    const char *json;
    const char *faults[8]; /* "code address; cure begins", in order */
};

static const struct bad_file bad_files[] = {
    {"[]", {"wrong-type ; a job"}},
    {"{}", {"missing shop; the shop"}},
    {"{\"shop\": {}, \"hight\": 5, \"cases\": []}", {"unknown-key hight; one of: format, name"}},
    {"{\"shop\": {}, \"part\": []}", {"unknown-key part; did you mean \"parts\"?"}},
    {"{\"shop\": {}, \"Name\": \"x\"}", {"unknown-key Name; did you mean \"name\"?"}},
    {"{\"shop\": {}, \"zzzzzzzz\": 1}", {"unknown-key zzzzzzzz; one of: format, name, units"}},
    {"{\"shop\": {}, \"name\": \"a\", \"name\": \"b\"}", {"key-twice name; one of the two"}},
    {"{\"shop\": {}, \"format\": 0}", {""}}, /* a matter of completing: see below */
    {"{\"shop\": {}, \"format\": 2, \"hight\": 5}", {"newer-format format"}}, /* and nothing else: a newer format may well have new keys */
    {"{\"shop\": {}, \"format\": 99999999999999999999, \"cases\": 1}", {"newer-format format"}},
    {"{\"shop\": {}, \"units\": \"cm\"}", {"unknown-word units; one of: in, mm"}},
    {"{\"shop\": {}, \"name\": 5}", {"wrong-type name; a string"}},
    {"{\"shop\": {}, \"name\": null}", {"wrong-type name; a string"}},
    {"{\"shop\": {}, \"cases\": {}}", {"wrong-type cases; an array"}},
    {"{\"shop\": {}, \"cases\": [5]}", {"wrong-type cases[0]; an object"}},
    {"{\"shop\": []}", {"wrong-type shop; an object"}},
    {"{\"shop\": \"../secret.json\"}", {"no-shop-file shop; the shop itself"}},
    {PARTS(PART(", \"count\": 1.5") "," PART(", \"count\": 1e999") "," PART(", \"count\": \"2\"") "," PART(", \"count\": -1")),
     {"not-understood parts[0].count; a whole number", "not-understood parts[1].count; a whole number", "wrong-type parts[2].count; a whole number",
      "not-understood parts[3].count; a whole number"}},
    {PARTS("{\"name\": \"a\", \"material\": \"ply 12\", \"length\": \"24 1/2 1/4\", \"width\": 1e2}"),
     {"unknown-material parts[0].material; did you mean \"ply 1/2\"?", "not-understood parts[0].length; a length such as", "not-understood parts[0].width; a length such as"}},
    {PARTS("{\"name\": \"a\", \"material\": 1, \"length\": true, \"width\": []}"),
     {"wrong-type parts[0].material; an id", "wrong-type parts[0].length; to cut", "wrong-type parts[0].width; to cut"}},
    {PARTS(PART(", \"grain\": \"acros\"")), {"unknown-word parts[0].grain; did you mean \"across\"?"}},
    {PARTS(PART(", \"banding\": \"tape\"")), {"unknown-banding parts[0].banding; an entry of that id there"}},
    {"{" TEST_SHOP ", \"cases\": [{\"slide\": \"sid\", \"free_standing\": \"yes\", \"opening\": {\"width\": [], \"height\": [1, \"x\"]}, \"banks\": ["
     "{\"drawers\": -3}, {\"drawers\": [{\"height\": {\"front\": 5, \"inside\": 4}}, {\"fit\": \"outset\"}]}]}]}",
     {"no-readings cases[0].opening.width; from 1 to 100", "not-understood cases[0].opening.height[1]; a length such as", "wrong-type cases[0].free_standing; true or false",
      "unknown-slide cases[0].slide; did you mean \"side\"?", "not-understood cases[0].banks[0].drawers; a number from 1 to 1000",
      "two-ways cases[0].banks[1].drawers[0].height; one of the two", "unknown-word cases[0].banks[1].drawers[1].fit; one of: inset"}},
    {"{\"shop\": {\"prices\": {\"decimals\": 0}, \"materials\": [{\"id\": \"a\", \"thickness\": 1, \"stiffness\": \"8\", \"density\": 5, \"movement\": \"x\","
     "\"sheets\": [{\"id\": \"s\", \"length\": 20, \"width\": 20, \"price\": \"5.00\", \"trim\": \"x\"}]}], \"slides\": [{\"id\": \"s\", \"rating\": 100}]}}",
     {"not-understood shop.materials[0].stiffness; a pressure", "not-understood shop.materials[0].density; a density",
      "not-understood shop.materials[0].movement; a percentage", "not-understood shop.materials[0].sheets[0].trim; a length",
      "not-understood shop.materials[0].sheets[0].price; no smaller amounts", "not-understood shop.slides[0].rating; a weight"}},
};

static char folder[64]; /* for the tests that need files; the places of faults are compared without it */

static const char *without_folder(const char *address)
{
    const size_t length = strlen(folder);
    return length > 0 && strncmp(address, folder, length) == 0 ? address + length + 1 : address;
}

static void check_faults(size_t row, const char *const *wanted, size_t most)
{
    size_t count = 0;
    bool same = true;
    for (; count < most && wanted[count] != NULL && wanted[count][0] != '\0'; count++) {
        char found[512] = "";
        if (count < faults->count)
            (void)snprintf(found, sizeof found, "%s %s; %s", faults->at[count].code, without_folder(faults->at[count].address),
                           faults->at[count].cure);
        if (strncmp(found, wanted[count], strlen(wanted[count])) != 0) {
            print_error("row %zu: got    %s\n       wanted %s\n", row, found, wanted[count]);
            same = false;
        }
    }
    if (faults->count != count)
        print_faults(faults);
    assert_true(same);
    assert_int_equal(faults->count, count);
}

static void test_wrong_jobs_are_told_all_at_once(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof bad_files / sizeof *bad_files; i++) {
        const struct dw_job *job = job_read(bad_files[i].json, arena, faults);
        check_faults(i, bad_files[i].faults, 8);
        assert_int_equal(job == NULL, faults->count > 0);
        fresh_faults();
    }
    assert_null(job_from("{\"shop\": {}, \"format\": 0, \"cases\": [{}]}", arena, faults));
    assert_string_equal(faults->at[0].address, "format");
}

/* The digits of a number in the file are the number: 0.1 and 24.5 are exact, and 8 digits behind the point are not cut off. */
static void test_numbers_keep_their_digits(void **state)
{
    (void)state;
    const struct dw_job *job = good_job("{\"units\": \"mm\", \"shop\": {\"materials\": [{\"id\": \"a\", \"thickness\": 11.9}]}, \"parts\": ["
                                        "{\"name\": \"a\", \"material\": \"a\", \"length\": 1000.0000625, \"width\": 24.5}]}",
                                        arena);
    assert_true(job->shop.materials[0].thickness == 119 * DW_MM / 10);
    assert_true(job->extras[0].length == 1000 * DW_MM + 1);
    assert_true(job->extras[0].width == 49 * DW_MM / 2);
    assert_null(job_from("{\"units\": \"mm\", \"shop\": {\"materials\": [{\"id\": \"a\", \"thickness\": 11.90000001}]}}", arena, faults));
    assert_string_equal(faults->at[0].address, "shop.materials[0].thickness");
}

/* A shop that counts in the other unit than its job. */
static void test_a_shop_has_its_own_units(void **state)
{
    (void)state;
    const struct dw_job *job = good_job("{\"units\": \"in\", \"shop\": {\"units\": \"mm\", \"materials\": [{\"id\": \"a\", \"thickness\": 18}]}, \"parts\": ["
                                        "{\"name\": \"a\", \"material\": \"a\", \"length\": 20, \"width\": 10}]}",
                                        arena);
    assert_true(job->shop.materials[0].thickness == 18 * DW_MM);
    assert_true(job->extras[0].length == 20 * DW_INCH);
    assert_true(job->shop.habits.gap == 3 * DW_MM);
}

/* ---- files ------------------------------------------------------------------------------------------------ */

static int make_folder(void **state)
{
    (void)strcpy(folder, "/tmp/dw-files-XXXXXX");
    return set_up(state) != 0 || mkdtemp(folder) == NULL;
}

static const char *in_folder(const char *name)
{
    static char paths[8][128];
    static size_t next;
    char *path = paths[next++ % 8];
    (void)snprintf(path, sizeof paths[0], "%s/%s", folder, name);
    return path;
}

static void put(const char *name, const char *text)
{
    assert_int_equal(dw_file_write(in_folder(name), text, strlen(text), faults), DW_DONE);
}

static int remove_folder(void **state)
{
    static const char *const names[] = {"job.json", "shop.json", "parts.csv", "kept.txt"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        (void)unlink(in_folder(names[i]));
    const int left = rmdir(folder); /* nothing was left aside */
    return tear_down(state) != 0 || left != 0;
}

static const char SHOP_FILE[] = "{\"units\": \"in\", \"materials\": [{\"id\": \"ply\", \"thickness\": \"1/2\", \"sheets\": [{\"id\": \"4x8\", \"length\": 96,"
                                "\"width\": 48, \"price\": 68}]}]}";

static void test_a_shop_beside_its_job(void **state)
{
    (void)state;
    const struct dw_job *job = NULL;
    put("shop.json", SHOP_FILE);
    put("job.json", "{\"shop\": \"shop.json\", \"parts\": [{\"name\": \"a\", \"material\": \"ply\", \"length\": 20, \"width\": 10}]}");
    assert_int_equal(dw_job_read_file(in_folder("job.json"), NULL, arena, faults, &job), DW_DONE);
    assert_string_equal(job->id, "job");
    assert_true(job->shop.materials[0].sheets[0].price == 6800);
    static const char *const settings[] = {"shop.habits.kerf=3/32", "parts[0].count=4", "name=A \"new\" name", "parts[1]={\"name\": \"b\", \"material\": \"ply\", \"length\": 5, \"width\": 5}"};
    const struct dw_read_options options = {.settings = settings, .setting_count = 4};
    assert_int_equal(dw_job_read_file(in_folder("job.json"), &options, arena, faults, &job), DW_DONE);
    assert_true(job->shop.habits.kerf == 3 * DW_INCH / 32);
    assert_int_equal(job->extra_count, 2);
    assert_true(job->extras[0].count == 4);
    assert_string_equal(job->name, "A \"new\" name");
    static const char *const wrong[] = {"parts[9].count=4", "kerf", "shop.habits.kurf=1", "a..b=1"};
    const struct dw_read_options bad = {.settings = wrong, .setting_count = 4};
    assert_int_equal(dw_job_read_file(in_folder("job.json"), &bad, arena, faults, &job), DW_INPUT);
    static const char *const found[] = {"no-address parts[9].count; ", "no-value kerf; ", "no-address a..b; "};
    check_faults(0, found, 3);
}

static void test_files_that_cannot_be_had(void **state)
{
    (void)state;
    const struct dw_job *job = NULL;
    assert_int_equal(dw_job_read_file(in_folder("none.json"), NULL, arena, faults, &job), DW_SURROUNDINGS);
    assert_int_equal(dw_job_read_file(folder, NULL, arena, faults, &job), DW_SURROUNDINGS);
    fresh_faults();
    put("job.json", "{\"shop\": \"shop.json\", \"parts\": []}");
    assert_int_equal(dw_job_read_file(in_folder("job.json"), NULL, arena, faults, &job), DW_SURROUNDINGS);
    fresh_faults();
    put("job.json", "{\"shop\": \"../shop.json\", \"parts\": []}");
    assert_int_equal(dw_job_read_file(in_folder("job.json"), NULL, arena, faults, &job), DW_INPUT);
    fresh_faults();
    put("shop.json", "{\"materials\": []}");
    put("job.json", "{\"shop\": \"shop.json\"}");
    assert_int_equal(dw_job_read_file(in_folder("job.json"), NULL, arena, faults, &job), DW_INPUT);
    assert_string_equal(faults->at[0].address, "shop.units");
    fresh_faults();
    put("shop.json", "{\n\"materials\": [}");
    assert_int_equal(dw_job_read_file(in_folder("job.json"), NULL, arena, faults, &job), DW_INPUT);
    assert_string_equal(faults->at[0].address, in_folder("shop.json"));
    assert_non_null(strstr(faults->at[0].wrong, "line 2, column 15"));
}

/* The one fault of a file: its place and what begins the words. */
static void expect_fault_at(const char *place, const char *wrong)
{
    assert_int_equal(faults->count, 1);
    assert_string_equal(faults->at[0].address, place);
    if (strstr(faults->at[0].wrong, wrong) == NULL)
        fail_msg("said: %s", faults->at[0].wrong);
    assert_true(faults->at[0].cure[0] != '\0');
    fresh_faults();
}

/* What cannot be read at all is told of the file, with line and column; and of several jobs each fault says which it is of. */
static void test_faults_name_their_file(void **state)
{
    (void)state;
    char place[160];
    const struct dw_job *job = NULL;
    const struct dw_plan *plan = NULL;
    const struct dw_read_options several = {.one_of_several = true};
    put("shop.json", SHOP_FILE);
    const struct dw_read_options beside = {.shop = in_folder("shop.json")};
    put("job.json", "{\"shop\":\n \"shop.json\",}");
    assert_int_equal(dw_job_read_file(in_folder("job.json"), NULL, arena, faults, &job), DW_INPUT);
    expect_fault_at(in_folder("job.json"), "line 2, column 14: expected a string");
    assert_int_equal(dw_job_read_file(in_folder("job.json"), &several, arena, faults, &job), DW_INPUT);
    expect_fault_at(in_folder("job.json"), "line 2, column 14: expected a string");
    put("job.json", "{\"shop\": \"shop.json\", \"part\": []}");
    assert_int_equal(dw_job_read_file(in_folder("job.json"), &several, arena, faults, &job), DW_INPUT);
    (void)snprintf(place, sizeof place, "%s: part", in_folder("job.json"));
    expect_fault_at(place, "not known");
    put("parts.csv", "name,material,length,width\na,ply,20\n");
    assert_int_equal(dw_job_read_file(in_folder("parts.csv"), &beside, arena, faults, &job), DW_INPUT);
    expect_fault_at(in_folder("parts.csv"), "line 2: it has 3 fields");
    assert_int_equal(dw_plan_read_file(in_folder("parts.csv"), arena, faults, &plan), DW_INPUT);
    expect_fault_at(in_folder("parts.csv"), "line 1, column 1: expected a value");
    put("job.json", "{\"shop\": {}, \"cases\": []}");
    (void)snprintf(place, sizeof place, "%s: plan_id", in_folder("job.json"));
    assert_int_equal(dw_plan_read_file(in_folder("job.json"), arena, faults, &plan), DW_INPUT);
    expect_fault_at(place, "this is no plan");
}

/* A number of decimals that no currency has, however large, is refused as such, whatever amounts stand beside it. */
static void test_decimals_that_no_currency_has(void **state)
{
    (void)state;
    static const char *const numbers[] = {"4", "21", "4294967298", "999999999999999"};
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
        char text[256];
        (void)snprintf(text, sizeof text, "{\"shop\": {\"prices\": {\"decimals\": %s, \"labor_rate\": \"38.00\"}}, \"cases\": [{}]}", numbers[i]);
        assert_null(job_from(text, arena, faults));
        assert_string_equal(faults->at[0].address, "shop.prices.decimals");
        fresh_faults();
    }
}

static void test_files_are_written_whole_or_not(void **state)
{
    (void)state;
    size_t length = 0;
    put("kept.txt", "old");
    assert_int_equal(chmod(in_folder("kept.txt"), 0600), 0);
    put("kept.txt", "new");
    assert_string_equal(dw_file_read(in_folder("kept.txt"), arena, faults, &length), "new");
    assert_int_equal(length, 3);
    assert_int_equal(dw_file_write(in_folder("none/kept.txt"), "x", 1, faults), DW_SURROUNDINGS);
    assert_int_equal(dw_file_write(folder, "x", 1, faults), DW_SURROUNDINGS); /* a folder stands there */
    assert_int_equal(faults->errors, 2);
}

/* ---- changes ---------------------------------------------------------------------------------------------- */

struct setting {
    const char *json, *address, *value;
    enum dw_status status;
    struct dw_text out;
};

static void set_body(void *context)
{
    struct setting *setting = context;
    setting->out = dw_text_in(arena);
    setting->status = dw_job_set(setting->json, strlen(setting->json), setting->address, setting->value, &setting->out, faults);
}

static void test_values_are_set_by_address(void **state)
{
    (void)state;
    static const struct {
        const char *json, *address, *value, *wanted; /* NULL: refused */
    } rows[] = {
        {"{\"a\": 1}", "a", "2.50", "{\"a\": 2.50}\n"},
        {"{\"a\": 1}", "a", "3/32", "{\"a\": \"3/32\"}\n"},
        {"{\"a\": 1, \"b\": 2}", "a", NULL, "{\"b\": 2}\n"},
        {"{\"a\": 1}", "c", NULL, "{\"a\": 1}\n"},
        {"{}", "shop.habits.kerf", "\"1/8\"", "{\n  \"shop\": {\n    \"habits\": {\"kerf\": \"1/8\"}\n  }\n}\n"},
        {"{\"a\": [1, 2, 3]}", "a[1]", "true", "{\n  \"a\": [1, true, 3]\n}\n"},
        {"{\"a\": [1]}", "a[1]", "x", "{\n  \"a\": [1, \"x\"]\n}\n"},
        {"{\"a\": [1, 2, 3]}", "a[0]", NULL, "{\n  \"a\": [2, 3]\n}\n"},
        {"{}", "cases[0].count", "2", "{\n  \"cases\": [\n    {\"count\": 2}\n  ]\n}\n"},
        {"{\"a\": \"\\u00bd \\\" \\\\\"}", "b", "\xC2\xBD", "{\"a\": \"\xC2\xBD \\\" \\\\\", \"b\": \"\xC2\xBD\"}\n"},
        {"{\"drawers\": 2}", "drawers[1].name", "low", "{\n  \"drawers\": [\n    {},\n    {\"name\": \"low\"}\n  ]\n}\n"},
        {"{\"drawers\": 2}", "drawers[2].name", "low", NULL},
        {"{\"a\": [1]}", "a[2]", "x", NULL},
        {"{\"a\": 1}", "a.b", "x", NULL},
        {"{\"a\": 1}", "a[0]", "x", NULL},
        {"{\"a\": 1}", "", "x", NULL},
        {"{\"a\": 1}", "a..b", "x", NULL},
        {"{\"a\": 1", "a", "x", NULL},
        {"{\"a\": 1}", "a", "x\ny", NULL},
        {"{\"a\": 1}", "a", "\xFF", NULL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct setting setting = {.json = rows[i].json, .address = rows[i].address, .value = rows[i].value};
        assert_true(dw_arena_guard(arena, set_body, &setting));
        assert_int_equal(setting.status, rows[i].wanted == NULL ? DW_INPUT : DW_DONE);
        assert_int_equal(faults->count, rows[i].wanted == NULL ? 1 : 0);
        if (rows[i].wanted != NULL)
            assert_string_equal(setting.out.bytes, rows[i].wanted);
        fresh_faults();
    }
}

/* ---- lists of parts --------------------------------------------------------------------------------------- */

static const struct dw_job *job_of_list(const char *text)
{
    const struct dw_job *job = NULL;
    const struct dw_job *complete = NULL;
    char shop[128];
    (void)snprintf(shop, sizeof shop, "%s", in_folder("shop.json"));
    const struct dw_read_options options = {.shop = shop};
    put("parts.csv", text);
    if (dw_job_read_file(in_folder("parts.csv"), &options, arena, faults, &job) == DW_DONE)
        (void)dw_job_complete(job, arena, faults, &complete);
    return complete;
}

static void test_lists_of_parts_are_read(void **state)
{
    (void)state;
    static const char *const lists[] = {
        "name,material,length,width,count,grain,group\r\n\"side, left\",ply,20 1/2,10,2,across,Bench\r\nshelf,ply,\"24-1/2\"\"\",11.25,,,\r\n",
        "group;grain;width;length;material;count;name\nBench;across;10;20,5;ply;2;side, left\n\n;;11,25;24-1/2\";ply;;shelf",
        "\xEF\xBB\xBFname\tmaterial\tlength\twidth\tcount\tgrain\tgroup\n\"side, left\"\tply\t20.5\t10\t2\tacross\tBench\n shelf \tply\t622.3 mm\t11 1/4\t\t\t\n",
    };
    put("shop.json", SHOP_FILE);
    for (size_t i = 0; i < sizeof lists / sizeof *lists; i++) {
        const struct dw_job *job = job_of_list(lists[i]);
        print_faults(faults);
        assert_non_null(job);
        assert_int_equal(job->extra_count, 2);
        assert_string_equal(job->extras[0].name, "side, left");
        assert_string_equal(job->extras[0].group, "Bench");
        assert_int_equal(job->extras[0].grain, DW_ACROSS);
        assert_true(job->extras[0].length == 41 * DW_INCH / 2 && job->extras[0].count == 2);
        assert_string_equal(job->extras[1].name, "shelf");
        assert_true(job->extras[1].length == 49 * DW_INCH / 2 && job->extras[1].width == 45 * DW_INCH / 4 && job->extras[1].count == 1);
        assert_string_equal(job->id, "parts");
    }
}

static void test_lists_that_are_wrong(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        const char *faults[5];
    } rows[] = {
        {"", {"not-csv parts.csv; a first line"}},
        {" \n\n", {"not-csv parts.csv; a first line"}},
        {"name,material,length\na,ply,5\n", {"not-csv parts.csv; a first line such as"}},
        {"name,material,length,width,color\n", {"not-csv parts.csv; columns out of"}},
        {"name,material,length,width,width\n", {"not-csv parts.csv; one of the two"}},
        {"name,material,length,width\na,ply,5\n", {"not-csv parts.csv; as many fields"}},
        {"name,material,length,width\n\"a,ply,5,5\n", {"not-csv parts.csv; a quote at its end"}},
        {"name,material,length,width\n\"a\"b,ply,5,5\n", {"not-csv parts.csv; a quote inside"}},
        {"name,material,length,width\na\xFF,ply,5,5\n", {"not-csv parts.csv; a list saved as CSV"}},
        {"name,material,length,width,count\na,oak,5,5,2\nb,ply,x,5,two\n",
         {"unknown-material parts[0].material; one of: ply", "not-understood parts[1].length; a length", "not-understood parts[1].count; a whole number"}},
        {"name,material,length,width\n", {"nothing-asked cases; at least"}},
    };
    put("shop.json", SHOP_FILE);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        assert_null(job_of_list(rows[i].text));
        check_faults(i, rows[i].faults, 5);
        fresh_faults();
    }
    const struct dw_job *job = NULL;
    assert_int_equal(dw_job_read_file(in_folder("parts.csv"), NULL, arena, faults, &job), DW_INPUT);
    assert_string_equal(faults->at[0].code, "no-shop");
}

/* ---- memory ----------------------------------------------------------------------------------------------- */

static void test_reading_survives_failing_memory(void **state)
{
    (void)state;
    char path[512];
    (void)snprintf(path, sizeof path, "%s/samples/%s.json", DW_SOURCE_DIR, samples[0]);
    static const char *const settings[] = {"shop.habits.kerf=3/32"};
    const struct dw_read_options options = {.settings = settings, .setting_count = 1};
    size_t n = 1;
    for (;; n++) {
        struct dw_arena *own = dw_arena_new();
        struct dw_faults *found = dw_faults_new();
        const struct dw_job *job = NULL;
        dw_memory_fail_at(n);
        const enum dw_status status = dw_job_read_file(path, &options, own, found, &job);
        dw_memory_fail_at(0);
        assert_int_equal(status == DW_DONE, job != NULL);
        assert_true(status == DW_DONE || status == DW_SURROUNDINGS);
        dw_faults_free(found);
        dw_arena_free(own);
        if (status == DW_DONE)
            break;
    }
    assert_true(n > 3);
}

#define EACH(test) cmocka_unit_test_setup_teardown(test, set_up, tear_down)
#define IN_FOLDER(test) cmocka_unit_test_setup_teardown(test, make_folder, remove_folder)

int main(void)
{
    const struct CMUnitTest tests[] = {
        EACH(test_samples_are_good),
        EACH(test_completed_jobs_go_round),
        EACH(test_odd_values_go_round),
        EACH(test_texts_that_are_no_json),
        EACH(test_slips_have_their_cure),
        EACH(test_depth_and_size_are_bounded),
        EACH(test_short_files_cannot_ask_for_endless_memory),
        EACH(test_a_mark_before_the_text_is_skipped),
        EACH(test_wrong_jobs_are_told_all_at_once),
        EACH(test_numbers_keep_their_digits),
        EACH(test_a_shop_has_its_own_units),
        IN_FOLDER(test_a_shop_beside_its_job),
        IN_FOLDER(test_files_that_cannot_be_had),
        IN_FOLDER(test_faults_name_their_file),
        EACH(test_decimals_that_no_currency_has),
        IN_FOLDER(test_files_are_written_whole_or_not),
        EACH(test_values_are_set_by_address),
        IN_FOLDER(test_lists_of_parts_are_read),
        IN_FOLDER(test_lists_that_are_wrong),
        EACH(test_reading_survives_failing_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
