/* test_job_docs.c - the schema and the reference of job files are those that the program's own tables give; the examples in them are
 * good; the samples keep to the schema by the judgment of a general JSON Schema library (python3-jsonschema, where it is installed).
 * With DW_UPDATE set in the environment both files are written anew. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdlib.h>

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

struct document {
    void (*write)(struct dw_text *out);
    struct dw_text text;
};

static void document_body(void *context)
{
    struct document *document = context;
    document->text = dw_text_in(arena);
    document->write(&document->text);
}

static void check_document(const char *path, void (*write)(struct dw_text *out))
{
    struct document document = {.write = write};
    size_t length = 0;
    assert_true(dw_arena_guard(arena, document_body, &document));
    if (getenv("DW_UPDATE") != NULL)
        assert_int_equal(dw_file_write(path, document.text.bytes, document.text.length, faults), DW_DONE);
    const char *stands = dw_file_read(path, arena, faults, &length);
    assert_non_null(stands);
    if (strcmp(stands, document.text.bytes) != 0)
        fail_msg("%s is not what the tables say; run this test with DW_UPDATE=1", path);
}

static void test_the_schema_is_what_the_tables_say(void **state)
{
    (void)state;
    check_document(DW_SOURCE_DIR "/docs/job.schema.json", dw_job_schema);
}

static void test_the_reference_is_what_the_tables_say(void **state)
{
    (void)state;
    check_document(DW_SOURCE_DIR "/docs/job.md", dw_job_reference);
}

/* The job between the fences of the reference is a good one. */
static void test_the_example_of_the_reference_is_good(void **state)
{
    (void)state;
    size_t length = 0;
    const char *text = dw_file_read(DW_SOURCE_DIR "/docs/job.md", arena, faults, &length);
    assert_non_null(text);
    const char *start = strstr(text, "```json\n");
    assert_non_null(start);
    start += strlen("```json\n");
    const char *end = strstr(start, "```");
    assert_non_null(end);
    const struct dw_job *job = NULL;
    const struct dw_job *complete = NULL;
    assert_int_equal(dw_job_read_text(start, (size_t)(end - start), "example", NULL, NULL, arena, faults, &job), DW_DONE);
    assert_int_equal(dw_job_complete(job, arena, faults, &complete), DW_DONE);
    assert_int_equal(faults->count, 0);
}

/* Every example of a key that is no object or list is read by that key without a word. */
static void check_example(const struct dw_object *object, const struct dw_key *key)
{
    char text[512];
    const char *unquoted = key->example;
    char value[256];
    if (key->kind == DW_KEY_OBJECT || key->kind == DW_KEY_LIST || key->kind == DW_KEY_READINGS || key->kind == DW_KEY_MATERIAL ||
        key->kind == DW_KEY_SLIDE || key->kind == DW_KEY_BANDING)
        return;
    if (unquoted[0] == '"') {
        (void)snprintf(value, sizeof value, "%.*s", (int)strlen(unquoted) - 2, unquoted + 1);
        unquoted = value;
    }
    void *thing = calloc(1, object->size);
    assert_non_null(thing);
    const char *why = "";
    (void)snprintf(text, sizeof text, "%s.%s: %s", object->name, key->key, key->example);
    const bool good = dw_key_parse(key, thing, unquoted, DW_IN, 2, &why);
    int64_t number = 0;
    if (key->kind != DW_KEY_TEXT)
        number = dw_key_number(key, thing) + key->less;
    free(thing);
    if (!good)
        fail_msg("%s: %s", text, why);
    if (key->kind != DW_KEY_TEXT && key->kind != DW_KEY_WORD && key->kind != DW_KEY_YES_NO && key->most != 0)
        if (number < key->least || number > key->most)
            fail_msg("%s is out of its own range", text);
}

static void check_object(const struct dw_object *object)
{
    for (size_t i = 0; i < object->count; i++) {
        assert_true(object->keys[i].meaning != NULL && object->keys[i].example != NULL);
        check_example(object, &object->keys[i]);
        if (object->keys[i].object != NULL)
            check_object(object->keys[i].object);
    }
}

static void test_every_key_has_a_meaning_and_a_good_example(void **state)
{
    (void)state;
    check_object(&dw_job_object);
}

/* Marks the bytes of a struct that its rows reach. */
static void mark_reached(const struct dw_object *object, unsigned char *bytes)
{
    for (size_t i = 0; i < object->count; i++) {
        const struct dw_key *key = &object->keys[i];
        if (key->kind == DW_KEY_OBJECT) {
            mark_reached(key->object, bytes + key->offset);
            continue;
        }
        memset(bytes + key->offset, 1, key->size);
        if (key->kind == DW_KEY_LIST)
            memset(bytes + key->count_offset, 1, sizeof(size_t));
    }
}

/* Whole words of a struct that no row reaches; what is narrower may be padding. */
static size_t unreached_words(const struct dw_object *object)
{
    unsigned char *bytes = calloc(1, object->size);
    size_t words = 0;
    assert_non_null(bytes);
    mark_reached(object, bytes);
    for (size_t at = 0; at + sizeof(int64_t) <= object->size; at += sizeof(int64_t)) {
        size_t reached = 0;
        for (size_t i = 0; i < sizeof(int64_t); i++)
            reached += bytes[at + i];
        words += reached == 0 ? 1 : 0;
    }
    free(bytes);
    return words;
}

/* A member of the structs of job.h that no key can fill would be out of a maker's reach. Only a job's id, the name of its file, is. */
static void test_every_member_has_a_key(void **state)
{
    (void)state;
    const struct dw_object *const objects[] = {&dw_shop_object,     &dw_habits_object,   &dw_prices_object, &dw_material_object, &dw_sheet_object,
                                               &dw_break_object,    &dw_slide_object,    &dw_saw_object,    &dw_hardware_object, &dw_banding_object,
                                               &dw_supplier_object, &dw_case_object,     &dw_bank_object,   &dw_drawer_object,   &dw_box_object,
                                               &dw_corner_object,   &dw_front_object,    &dw_fit_object,    &dw_height_object,   &dw_rail_object,
                                               &dw_extra_object,    &dw_slide_length_object, &dw_batch_object};
    for (size_t i = 0; i < sizeof objects / sizeof *objects; i++)
        if (unreached_words(objects[i]) != 0)
            fail_msg("a %s has %zu words that no key fills", objects[i]->name, unreached_words(objects[i]));
    assert_int_equal(unreached_words(&dw_job_object), 1);
}

static void test_samples_keep_to_the_schema(void **state)
{
    (void)state;
    const int status = system("python3 " DW_SOURCE_DIR "/tests/outside/check_schema.py " DW_SOURCE_DIR);
    if (status == 77 << 8)
        skip();
    assert_int_equal(status, 0);
}

#define EACH(test) cmocka_unit_test_setup_teardown(test, set_up, tear_down)

int main(void)
{
    const struct CMUnitTest tests[] = {
        EACH(test_the_schema_is_what_the_tables_say),
        EACH(test_the_reference_is_what_the_tables_say),
        EACH(test_the_example_of_the_reference_is_good),
        EACH(test_every_key_has_a_meaning_and_a_good_example),
        EACH(test_every_member_has_a_key),
        EACH(test_samples_keep_to_the_schema),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
