/* test_fuzz_corpus.c - the kept corpus of the fuzz entries, and every one-byte spoiling of it, under any compiler. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>

#include "fuzz/fuzz.h"

enum { FILE_MOST = 1 << 16 };

typedef int entry(const uint8_t *data, size_t size);

static size_t slurp(const char *path, uint8_t *data)
{
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    const size_t size = fread(data, 1, FILE_MOST, file);
    assert_int_equal(ferror(file), 0);
    (void)fclose(file);
    return size;
}

/* As it is, cut short, and with a byte changed to what most likely upsets a parser; small files at every place, large ones at some. */
static void replay(entry *one, uint8_t *data, size_t size)
{
    static const uint8_t spoilers[] = {'"', '{', ']', ',', '0', '-', '\0', 0xFF};
    const size_t stride = size / 256 + 1;
    (void)one(data, size);
    for (size_t at = 0; at < size; at += stride) {
        const uint8_t kept = data[at];
        (void)one(data, at);
        data[at] = spoilers[at / stride % sizeof spoilers];
        (void)one(data, size);
        data[at] = kept;
    }
}

static void replay_folder(const char *name, entry *one)
{
    char folder[512];
    (void)snprintf(folder, sizeof folder, "%s/tests/fuzz/corpus/%s", DW_SOURCE_DIR, name);
    DIR *listing = opendir(folder);
    assert_non_null(listing);
    uint8_t *data = malloc(FILE_MOST);
    assert_non_null(data);
    size_t files = 0;
    for (const struct dirent *found = readdir(listing); found != NULL; found = readdir(listing)) {
        char path[1024];
        if (found->d_name[0] == '.')
            continue;
        (void)snprintf(path, sizeof path, "%s/%s", folder, found->d_name);
        replay(one, data, slurp(path, data));
        files++;
    }
    free(data);
    (void)closedir(listing);
    assert_true(files > 0);
}

static void test_lengths(void **state)
{
    (void)state;
    replay_folder("length", fuzz_length);
}

static void test_jobs(void **state)
{
    (void)state;
    replay_folder("job", fuzz_job);
}

static void test_lists(void **state)
{
    (void)state;
    replay_folder("csv", fuzz_csv);
}

static void test_plans(void **state)
{
    (void)state;
    replay_folder("plan", fuzz_plan);
}

static void test_requests(void **state)
{
    (void)state;
    replay_folder("guard", fuzz_guard);
}

static void test_cutting(void **state)
{
    (void)state;
    replay_folder("cut", fuzz_cut);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_lengths),
        cmocka_unit_test(test_jobs),
        cmocka_unit_test(test_lists),
        cmocka_unit_test(test_plans),
        cmocka_unit_test(test_requests),
        cmocka_unit_test(test_cutting),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
