/* test_rack.c - the ledger of offcuts: entered once, undone by reversing, whole after a kill at any moment. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include <sqlite3.h>

#include <drawerwright/memory.h>
#include <drawerwright/rack.h>

#include "rack_bench.h"

static void open_rack(struct bench *bench)
{
    assert_int_equal(dw_rack_open(bench->path, bench->faults, &bench->rack), DW_DONE);
}

static struct dw_offcut panel(dw_length length, dw_length width)
{
    return (struct dw_offcut){.material = "birch", .length = length, .width = width, .value = 900, .origin = "from the corner"};
}

static int64_t add(struct bench *bench, dw_length length, dw_length width)
{
    int64_t number = 0;
    const struct dw_offcut offcut = panel(length, width);
    assert_int_equal(dw_rack_add(bench->rack, &offcut, bench->faults, &number), DW_DONE);
    return number;
}

static size_t count(struct bench *bench)
{
    struct dw_offcuts offcuts;
    assert_int_equal(dw_rack_list(bench->rack, NULL, bench->arena, bench->faults, &offcuts), DW_DONE);
    return offcuts.count;
}

static void test_add_list_take(void **state)
{
    struct bench *bench = *state;
    struct dw_offcuts offcuts;
    (void)add(bench, 24 * DW_INCH, 12 * DW_INCH);
    (void)add(bench, 30 * DW_INCH, 6 * DW_INCH);
    assert_int_equal(dw_rack_list(bench->rack, "birch", bench->arena, bench->faults, &offcuts), DW_DONE);
    assert_int_equal(offcuts.count, 2);
    assert_string_equal(offcuts.at[0].id, "R1");
    assert_int_equal(offcuts.at[1].length, 30 * DW_INCH);
    assert_int_equal(dw_rack_list(bench->rack, "oak", bench->arena, bench->faults, &offcuts), DW_DONE);
    assert_int_equal(offcuts.count, 0);
    assert_int_equal(dw_rack_take(bench->rack, "R1", "for a jig", bench->faults), DW_DONE);
    assert_int_equal(count(bench), 1);
    assert_int_equal(dw_rack_take(bench->rack, "R1", "", bench->faults), DW_IMPOSSIBLE);
    assert_int_equal(dw_rack_take(bench->rack, "nonsense", "", bench->faults), DW_IMPOSSIBLE);
}

static struct dw_posting posting_of(const char *plan, const char *const *used, size_t used_count, const struct dw_offcut *kept, size_t kept_count)
{
    return (struct dw_posting){.plan = plan, .jobs = "Bench", .used = used, .used_count = used_count, .kept = kept, .kept_count = kept_count};
}

static void test_posted_once_and_undone(void **state)
{
    struct bench *bench = *state;
    const char *const used[] = {"R1"};
    const struct dw_offcut kept[] = {panel(20 * DW_INCH, 9 * DW_INCH), panel(18 * DW_INCH, 9 * DW_INCH)};
    const struct dw_posting posting = posting_of("K4T9", used, 1, kept, 2);
    (void)add(bench, 24 * DW_INCH, 12 * DW_INCH);
    assert_int_equal(dw_rack_post(bench->rack, &posting, bench->faults), DW_DONE);
    assert_int_equal(count(bench), 2);
    assert_int_equal(dw_rack_post(bench->rack, &posting, bench->faults), DW_IMPOSSIBLE);
    assert_string_equal(bench->faults->at[bench->faults->count - 1].code, "posted-already");
    assert_int_equal(dw_rack_undo(bench->rack, "K4T9", bench->faults), DW_DONE);
    assert_int_equal(count(bench), 1);
    assert_int_equal(dw_rack_undo(bench->rack, "K4T9", bench->faults), DW_IMPOSSIBLE);
    assert_int_equal(dw_rack_post(bench->rack, &posting, bench->faults), DW_DONE);
    assert_int_equal(count(bench), 2);
}

static void test_a_refused_posting_changes_nothing(void **state)
{
    struct bench *bench = *state;
    struct dw_movements before;
    struct dw_movements after;
    const char *const used[] = {"R1", "R99"};
    const struct dw_offcut kept[] = {panel(20 * DW_INCH, 9 * DW_INCH)};
    const struct dw_posting posting = posting_of("K4T9", used, 2, kept, 1);
    (void)add(bench, 24 * DW_INCH, 12 * DW_INCH);
    assert_int_equal(dw_rack_history(bench->rack, bench->arena, bench->faults, &before), DW_DONE);
    assert_int_equal(dw_rack_post(bench->rack, &posting, bench->faults), DW_IMPOSSIBLE);
    assert_int_equal(dw_rack_history(bench->rack, bench->arena, bench->faults, &after), DW_DONE);
    assert_int_equal(before.count, after.count);
    assert_int_equal(count(bench), 1);
}

static void test_what_was_used_since_cannot_be_undone(void **state)
{
    struct bench *bench = *state;
    const struct dw_offcut kept[] = {panel(20 * DW_INCH, 9 * DW_INCH)};
    const struct dw_posting posting = posting_of("K4T9", NULL, 0, kept, 1);
    assert_int_equal(dw_rack_post(bench->rack, &posting, bench->faults), DW_DONE);
    assert_int_equal(dw_rack_take(bench->rack, "R1", "given away", bench->faults), DW_DONE);
    assert_int_equal(dw_rack_undo(bench->rack, "K4T9", bench->faults), DW_IMPOSSIBLE);
    assert_int_equal(count(bench), 0);
}

static void test_history_is_only_added_to(void **state)
{
    struct bench *bench = *state;
    sqlite3 *database = NULL;
    (void)add(bench, 24 * DW_INCH, 12 * DW_INCH);
    assert_int_equal(sqlite3_open(bench->path, &database), SQLITE_OK);
    assert_int_not_equal(sqlite3_exec(database, "DELETE FROM movement", NULL, NULL, NULL), SQLITE_OK);
    assert_int_not_equal(sqlite3_exec(database, "UPDATE offcut SET value = 0", NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_close(database), SQLITE_OK);
    assert_int_equal(count(bench), 1);
}

static void test_a_newer_ledger_is_refused(void **state)
{
    struct bench *bench = *state;
    sqlite3 *database = NULL;
    dw_rack_close(bench->rack);
    assert_int_equal(sqlite3_open(bench->path, &database), SQLITE_OK);
    assert_int_equal(sqlite3_exec(database, "PRAGMA user_version = 1000", NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_close(database), SQLITE_OK);
    assert_int_equal(dw_rack_open(bench->path, bench->faults, &bench->rack), DW_SURROUNDINGS);
    assert_null(bench->rack);
    assert_string_equal(bench->faults->at[0].code, "rack-version");
}

static void test_what_is_no_ledger_is_refused(void **state)
{
    struct bench *bench = *state;
    char path[128];
    struct dw_rack *rack = NULL;
    (void)snprintf(path, sizeof path, "%s/note.txt", bench->folder);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    for (int i = 0; i < 200; i++)
        (void)fputs("this is a shopping list and no database\n", file);
    (void)fclose(file);
    assert_int_equal(dw_rack_open(path, bench->faults, &rack), DW_SURROUNDINGS);
    assert_int_equal(dw_rack_open("/nowhere/at/all/rack.db", bench->faults, &rack), DW_SURROUNDINGS);
}

/* Every offcut there or not, never doubled; the file itself sound. */
static void assert_whole(const char *path)
{
    sqlite3 *database = NULL;
    sqlite3_stmt *statement = NULL;
    assert_int_equal(sqlite3_open(path, &database), SQLITE_OK);
    assert_int_equal(sqlite3_prepare_v2(database,
                                        "SELECT (SELECT count(*) FROM (SELECT sum(change) AS s FROM movement GROUP BY offcut) WHERE s NOT IN (0, 1))"
                                        " + (SELECT count(*) FROM offcut WHERE number NOT IN (SELECT offcut FROM movement))"
                                        " + (SELECT count(*) FROM posting p WHERE reverses IS NULL AND"
                                        "    (SELECT count(*) FROM movement m WHERE m.posting = p.number) <> 3)",
                                        -1, &statement, NULL),
                     SQLITE_OK);
    assert_int_equal(sqlite3_step(statement), SQLITE_ROW);
    assert_int_equal(sqlite3_column_int(statement, 0), 0);
    (void)sqlite3_finalize(statement);
    assert_int_equal(sqlite3_prepare_v2(database, "PRAGMA integrity_check", -1, &statement, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_step(statement), SQLITE_ROW);
    assert_string_equal((const char *)sqlite3_column_text(statement, 0), "ok");
    (void)sqlite3_finalize(statement);
    (void)sqlite3_close(database);
}

/* A child that adds an offcut and posts a plan that uses it and returns two, over and over. */
_Noreturn static void keep_posting(const char *path, int seed)
{
    struct dw_faults *faults = dw_faults_new();
    struct dw_rack *rack = NULL;
    if (dw_rack_open(path, faults, &rack) != DW_DONE)
        _exit(1);
    for (int i = 0;; i++) {
        char plan[32];
        char id[32];
        int64_t number = 0;
        const struct dw_offcut own = panel(24 * DW_INCH, 12 * DW_INCH);
        const struct dw_offcut kept[] = {panel(20 * DW_INCH, 9 * DW_INCH), panel(18 * DW_INCH, 9 * DW_INCH)};
        (void)snprintf(plan, sizeof plan, "P%d-%d", seed, i);
        if (dw_rack_add(rack, &own, faults, &number) != DW_DONE)
            _exit(1);
        (void)snprintf(id, sizeof id, "R%lld", (long long)number);
        const char *const used[] = {id};
        const struct dw_posting posting = posting_of(plan, used, 1, kept, 2);
        if (dw_rack_post(rack, &posting, faults) != DW_DONE || (i % 3 == 0 && dw_rack_undo(rack, plan, faults) != DW_DONE))
            _exit(1);
    }
}

static void test_killed_at_any_moment(void **state)
{
    struct bench *bench = *state;
    const int rounds = getenv("DW_LONG") != NULL ? 200 : 30;
    dw_rack_close(bench->rack);
    bench->rack = NULL;
    for (int round = 0; round < rounds; round++) {
        const pid_t child = fork();
        assert_true(child >= 0);
        if (child == 0)
            keep_posting(bench->path, round);
        const struct timespec pause = {.tv_nsec = (round * 7919 % 23 + 1) * 1000000L};
        (void)nanosleep(&pause, NULL);
        (void)kill(child, SIGKILL);
        int how = 0;
        assert_int_equal(waitpid(child, &how, 0), child);
        assert_true(WIFSIGNALED(how));
        open_rack(bench); /* rolls back what was under way */
        dw_rack_close(bench->rack);
        bench->rack = NULL;
        assert_whole(bench->path);
    }
}

static void test_two_processes_post_the_same_plan(void **state)
{
    struct bench *bench = *state;
    pid_t children[4];
    for (size_t i = 0; i < 4; i++) {
        children[i] = fork();
        assert_true(children[i] >= 0);
        if (children[i] == 0) {
            struct dw_rack *rack = NULL;
            struct dw_faults *faults = dw_faults_new();
            const struct dw_offcut kept[] = {panel(20 * DW_INCH, 9 * DW_INCH)};
            const struct dw_posting posting = posting_of("SAME", NULL, 0, kept, 1);
            _exit(dw_rack_open(bench->path, faults, &rack) == DW_DONE ? (int)dw_rack_post(rack, &posting, faults) : 9);
        }
    }
    int done = 0;
    int refused = 0;
    for (size_t i = 0; i < 4; i++) {
        int how = 0;
        assert_int_equal(waitpid(children[i], &how, 0), children[i]);
        done += WIFEXITED(how) && WEXITSTATUS(how) == DW_DONE;
        refused += WIFEXITED(how) && WEXITSTATUS(how) == DW_IMPOSSIBLE;
    }
    assert_int_equal(done, 1);
    assert_int_equal(refused, 3);
    assert_int_equal(count(bench), 1);
}

/* A file that may not grow stands in for a full disk. */
static void test_a_full_disk_loses_nothing(void **state)
{
    struct bench *bench = *state;
    (void)add(bench, 24 * DW_INCH, 12 * DW_INCH);
    const pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        const struct rlimit limit = {.rlim_cur = 96 * 1024, .rlim_max = 96 * 1024};
        (void)signal(SIGXFSZ, SIG_IGN);
        (void)setrlimit(RLIMIT_FSIZE, &limit);
        struct dw_rack *rack = NULL;
        struct dw_faults *faults = dw_faults_new();
        enum dw_status status = dw_rack_open(bench->path, faults, &rack);
        for (int i = 0; i < 5000 && status == DW_DONE; i++) {
            const struct dw_offcut offcut = panel(24 * DW_INCH, 12 * DW_INCH);
            int64_t number = 0;
            status = dw_rack_add(rack, &offcut, faults, &number);
        }
        _exit(status == DW_SURROUNDINGS && faults->errors == 1 ? 0 : 1);
    }
    int how = 0;
    assert_int_equal(waitpid(child, &how, 0), child);
    assert_true(WIFEXITED(how));
    assert_int_equal(WEXITSTATUS(how), 0);
    assert_true(count(bench) >= 1);
    assert_whole(bench->path);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_add_list_take, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_posted_once_and_undone, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_a_refused_posting_changes_nothing, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_what_was_used_since_cannot_be_undone, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_history_is_only_added_to, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_a_newer_ledger_is_refused, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_what_is_no_ledger_is_refused, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_killed_at_any_moment, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_two_processes_post_the_same_plan, bench_set_up, bench_tear_down),
        cmocka_unit_test_setup_teardown(test_a_full_disk_loses_nothing, bench_set_up, bench_tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
