/* test_cli.c - the program as it is called: each folder of tests/cli/ is one call.
 *
 *   command   the words behind "drawerwright", as a shell would split them; run in samples/, with $T for an empty folder and "$D" for
 *             the program, where one call is to follow another
 *   exit      the exit status
 *   stdout    what stdout must be exactly (no file: anything)
 *   stderr    likewise
 *   has       lines that stdout and stderr together must each contain
 * tests/cli/update.sh writes stdout and stderr anew where they exist.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <dirent.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>

enum { MOST = 200, ROOM = 1 << 20 };

static bool slurp(const char *path, char *bytes)
{
    FILE *file = fopen(path, "r");
    if (file == NULL)
        return false;
    const size_t length = fread(bytes, 1, ROOM - 1, file);
    bytes[length] = '\0';
    (void)fclose(file);
    return true;
}

static void expect_same(const char *folder, const char *name, const char *got_path, char *wanted, char *got)
{
    char path[512];
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    if (!slurp(path, wanted))
        return;
    assert_true(slurp(got_path, got));
    if (strcmp(wanted, got) != 0) {
        print_error("%s differs; got:\n%s\n", path, got);
        fail();
    }
}

/* Each line of `has` stands somewhere in `got`. */
static void expect_lines(const char *folder, char *has, const char *got)
{
    for (char *line = strtok(has, "\n"); line != NULL; line = strtok(NULL, "\n"))
        if (strstr(got, line) == NULL) {
            print_error("%s: wanted \"%s\", got:\n%s\n", folder, line, got);
            fail();
        }
}

static void test_call(void **state)
{
    const char *folder = *state;
    char *wanted = calloc(ROOM, 1);
    char *got = calloc(2 * ROOM, 1);
    char work[] = "/tmp/dw-cli-XXXXXX";
    char path[512];
    char call[4096];
    assert_true(wanted != NULL && got != NULL);
    assert_non_null(mkdtemp(work));
    (void)snprintf(path, sizeof path, "%s/command", folder);
    assert_true(slurp(path, wanted));
    wanted[strcspn(wanted, "\n")] = '\0';
    (void)snprintf(call, sizeof call, "cd '%s/samples' && T=%s D='%s'; { \"$D\" %s; } >%s/stdout 2>%s/stderr </dev/null", DW_SOURCE_DIR, work, DW_PROGRAM, wanted, work, work);
    const int how = system(call);
    char out[64];
    char err[64];
    (void)snprintf(out, sizeof out, "%s/stdout", work);
    (void)snprintf(err, sizeof err, "%s/stderr", work);
    (void)snprintf(path, sizeof path, "%s/exit", folder);
    assert_true(slurp(path, wanted));
    assert_true(WIFEXITED(how));
    if (WEXITSTATUS(how) != atoi(wanted)) {
        assert_true(slurp(err, got));
        print_error("%s: exit status %d, not %s%s\n", folder, WEXITSTATUS(how), wanted, got);
        fail();
    }
    expect_same(folder, "stdout", out, wanted, got);
    expect_same(folder, "stderr", err, wanted, got);
    (void)snprintf(path, sizeof path, "%s/has", folder);
    if (slurp(path, wanted)) {
        assert_true(slurp(out, got));
        assert_true(slurp(err, got + strlen(got)));
        expect_lines(folder, wanted, got);
    }
    (void)snprintf(call, sizeof call, "rm -rf %s", work);
    assert_int_equal(system(call), 0);
    free(wanted);
    free(got);
}

static int by_name(const void *a, const void *b)
{
    return strcmp((*(char *const *)a), (*(char *const *)b));
}

int main(void)
{
    static struct CMUnitTest tests[MOST];
    static char *folders[MOST];
    size_t count = 0;
    DIR *directory = opendir(DW_SOURCE_DIR "/tests/cli");
    for (struct dirent *entry = NULL; directory != NULL && (entry = readdir(directory)) != NULL && count < MOST;) {
        if (strchr(entry->d_name, '.') != NULL)
            continue;
        folders[count] = malloc(512);
        if (folders[count] == NULL)
            return 1;
        (void)snprintf(folders[count++], 512, "%s/tests/cli/%s", DW_SOURCE_DIR, entry->d_name);
    }
    if (directory != NULL)
        (void)closedir(directory);
    qsort(folders, count, sizeof *folders, by_name);
    for (size_t i = 0; i < count; i++)
        tests[i] = (struct CMUnitTest){.name = strrchr(folders[i], '/') + 1, .test_func = test_call, .initial_state = folders[i]};
    const int failed = _cmocka_run_group_tests("cli", tests, count, NULL, NULL);
    for (size_t i = 0; i < count; i++)
        free(folders[i]);
    return count == 0 ? 1 : failed;
}
