/* test_failing_files.c - the program where files fail: no room, no right, a folder that goes away, a reader that leaves, streams that are closed. Each
 * time the exit status is 3, stderr says why, and no file is there by half: a file is whole or it is not there, and nothing lies beside it.
 *
 * The surroundings are real ones (limits, rights, a small file system of its own), set up in the child before the program is run.
 */
#define _GNU_SOURCE /* unshare */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <dirent.h>
#include <fcntl.h>
#include <sched.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#define JOB DW_SOURCE_DIR "/samples/plan-chest.json"

enum { NOBODY = 65534, NOT_HERE = 77, ROOM = 4096, FOLDER_ROOM = 64, PATH_ROOM = 512, WORDS = 12 };

/* One run of the program in a folder of its own. */
struct run {
    char folder[FOLDER_ROOM];
    char said[ROOM]; /* what stood on stderr */
    int status;      /* exit status; -1 when a signal ended it */
};

/* Changes the child's surroundings before the program is run; false: that cannot be had on this machine. */
typedef bool setting(const struct run *run);

static void start(struct run *run)
{
    *run = (struct run){.folder = "/tmp/dw-failing-XXXXXX"};
    assert_non_null(mkdtemp(run->folder));
    assert_int_equal(chmod(run->folder, 0777), 0);
}

static void end(const struct run *run)
{
    char call[PATH_ROOM];
    (void)snprintf(call, sizeof call, "chmod -R u+rwx %.200s; rm -rf %.200s", run->folder, run->folder);
    assert_int_equal(system(call), 0);
}

static const char *path_in(const struct run *run, const char *name, char path[PATH_ROOM])
{
    (void)snprintf(path, PATH_ROOM, "%s/%s", run->folder, name);
    return path;
}

/* In the child: stdout goes to a file, stderr into the pipe. Then the surroundings, then the program. */
static void become(const struct run *run, setting *set, const char *const words[], int errors)
{
    char path[PATH_ROOM];
    char *own[WORDS] = {NULL};
    const int answer = open(path_in(run, "answer", path), O_CREAT | O_WRONLY, 0666);
    if (chdir(run->folder) != 0 || dup2(answer, STDOUT_FILENO) < 0 || dup2(errors, STDERR_FILENO) < 0)
        _exit(NOT_HERE);
    (void)close(answer);
    (void)close(errors);
    if (set != NULL && !set(run))
        _exit(NOT_HERE);
    for (size_t i = 0; words[i] != NULL && i < WORDS - 1; i++)
        own[i] = strdup(words[i]);
    (void)execv(DW_PROGRAM, own);
    _exit(NOT_HERE);
}

static void run_program(struct run *run, setting *set, const char *const words[])
{
    int errors[2];
    int how = 0;
    size_t length = 0;
    assert_int_equal(pipe(errors), 0);
    const pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        (void)close(errors[0]);
        become(run, set, words, errors[1]);
    }
    (void)close(errors[1]);
    for (ssize_t got = 1; got > 0 && length < sizeof run->said - 1; length += got > 0 ? (size_t)got : 0)
        got = read(errors[0], run->said + length, sizeof run->said - 1 - length);
    run->said[length] = '\0';
    (void)close(errors[0]);
    assert_true(waitpid(child, &how, 0) == child);
    run->status = WIFEXITED(how) ? WEXITSTATUS(how) : -1;
}

static void expect(const struct run *run, int status, const char *words)
{
    if (run->status == NOT_HERE) {
        print_message("these surroundings cannot be had here\n");
        end(run);
        skip();
    }
    if (run->status != status || strstr(run->said, words) == NULL) {
        print_error("wanted exit %d and \"%s\", got exit %d and:\n%s\n", status, words, run->status, run->said);
        fail();
    }
}

/* Every file of the folder is one that a plan consists of, and not empty: none that was written aside is left. */
static int count_whole_files(const char *folder)
{
    static const char *const endings[] = {".csv", ".txt", ".svg", ".pdf", ".json", NULL};
    int count = 0;
    DIR *listing = opendir(folder);
    if (listing == NULL)
        return 0;
    for (const struct dirent *entry = readdir(listing); entry != NULL; entry = readdir(listing)) {
        const char *ending = strrchr(entry->d_name, '.');
        char path[2 * PATH_ROOM];
        struct stat status;
        size_t i = 0;
        if (entry->d_name[0] == '.')
            continue;
        while (endings[i] != NULL && (ending == NULL || strcmp(ending, endings[i]) != 0))
            i++;
        (void)snprintf(path, sizeof path, "%s/%s", folder, entry->d_name);
        if (endings[i] == NULL || stat(path, &status) != 0 || status.st_size == 0) {
            print_error("left behind: %s\n", path);
            fail();
        }
        count++;
    }
    (void)closedir(listing);
    return count;
}

#define PLAN {"drawerwright", "plan", JOB, "-o", "out", "--quiet", "--patience", "short", NULL}

/* ---- no room ------------------------------------------------------------------------------------------------- */

static bool small_files(const struct run *run)
{
    (void)run;
    const struct rlimit limit = {.rlim_cur = 6000, .rlim_max = 6000};
    return setrlimit(RLIMIT_FSIZE, &limit) == 0;
}

static void test_a_limit_on_files(void **state)
{
    (void)state;
    struct run run;
    char path[PATH_ROOM];
    start(&run);
    run_program(&run, small_files, (const char *[])PLAN);
    expect(&run, 3, "out/report.txt");
    expect(&run, 3, "cannot be written: File too large");
    assert_int_equal(count_whole_files(path_in(&run, "out", path)), 2); /* the two lists, which are small enough */
    end(&run);
}

/* A file system of 64 KiB over "out", seen by the child only. What lies in it is looked at before the child leaves, because nobody else can. */
static void test_a_full_disk(void **state)
{
    (void)state;
    struct run run;
    char path[PATH_ROOM];
    int how = 0;
    start(&run);
    (void)path_in(&run, "out", path);
    assert_int_equal(mkdir(path, 0777), 0);
    const pid_t child = fork();
    if (child == 0) {
        if (unshare(CLONE_NEWNS) != 0 || mount(NULL, "/", NULL, MS_REC | MS_PRIVATE, NULL) != 0 || mount("none", path, "tmpfs", 0, "size=64k") != 0)
            _exit(NOT_HERE);
        run_program(&run, NULL, (const char *[])PLAN);
        const bool told = run.status == 3 && strstr(run.said, "cannot be written: No space left on device") != NULL;
        _exit(told && count_whole_files(path) > 0 ? 0 : 1);
    }
    assert_true(waitpid(child, &how, 0) == child);
    end(&run);
    assert_true(WIFEXITED(how));
    if (WEXITSTATUS(how) == NOT_HERE)
        skip();
    assert_int_equal(WEXITSTATUS(how), 0);
}

static bool full_answer(const struct run *run)
{
    (void)run;
    const int full = open("/dev/full", O_WRONLY);
    return full >= 0 && dup2(full, STDOUT_FILENO) >= 0;
}

/* Every command that answers on stdout, on a device that is always full. */
static void test_a_full_answer(void **state)
{
    (void)state;
    static const char *const commands[][4] = {
        {"check", JOB}, {"size", JOB}, {"parts", JOB}, {"layout", JOB}, {"buy", JOB}, {"plan", JOB}, {"manual", "job"}, {"manual", "fish"}, {"--help"}, {"--version"},
    };
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++) {
        struct run run;
        start(&run);
        run_program(&run, full_answer, (const char *[]){"drawerwright", commands[i][0], commands[i][1], NULL});
        expect(&run, 3, "the answer could not be written out");
        end(&run);
    }
}

static void test_a_ledger_without_room(void **state)
{
    (void)state;
    struct run run;
    start(&run);
    run_program(&run, small_files, (const char *[]){"drawerwright", "rack", "add", "birch 3/4", "30", "20", "--rack-file", "rack.db", NULL});
    expect(&run, 3, "rack.db");
    end(&run);
}

/* ---- no right -------------------------------------------------------------------------------------------------- */

/* The folder is only to be read; root may write anywhere, so the child becomes nobody. */
static bool read_only(const struct run *run)
{
    if (chmod(run->folder, 0555) != 0)
        return false;
    return geteuid() != 0 || (setgid(NOBODY) == 0 && setuid(NOBODY) == 0 && access(DW_PROGRAM, X_OK) == 0 && access(JOB, R_OK) == 0);
}

static void test_a_folder_only_to_be_read(void **state)
{
    (void)state;
    static const char *const calls[][8] = {
        {"drawerwright", "plan", JOB, "-o", "out", "--quiet", "--patience=short"},
        {"drawerwright", "sketch", JOB, "-o", "front.svg", "--quiet"},
        {"drawerwright", "rack", "add", "birch 3/4", "30", "20", "--rack-file=rack.db"},
    };
    static const char *const places[] = {"out: the folder cannot be made: Permission denied", "front.svg: the file cannot be written: Permission denied", "rack.db"};
    for (size_t i = 0; i < sizeof calls / sizeof *calls; i++) {
        struct run run;
        start(&run);
        run_program(&run, read_only, calls[i]);
        expect(&run, 3, places[i]);
        end(&run);
    }
}

static void test_a_job_that_is_none(void **state)
{
    (void)state;
    static const char *const jobs[] = {"/", "/dev/null", "/dev/zero", "/proc/self/mem", "gone.json"};
    for (size_t i = 0; i < sizeof jobs / sizeof *jobs; i++) {
        struct run run;
        start(&run);
        run_program(&run, NULL, (const char *[]){"drawerwright", "check", jobs[i], "--quiet", NULL});
        if (run.status != 2 && run.status != 3) {
            print_error("%s: exit %d\n%s\n", jobs[i], run.status, run.said);
            fail();
        }
        expect(&run, run.status, "drawerwright: error: ");
        end(&run);
    }
}

/* ---- what goes away ---------------------------------------------------------------------------------------------- */

static bool nowhere(const struct run *run)
{
    char path[PATH_ROOM];
    return mkdir(path_in(run, "here", path), 0777) == 0 && chdir(path) == 0 && rmdir(path) == 0;
}

static void test_the_folder_one_stands_in_is_gone(void **state)
{
    (void)state;
    struct run run;
    start(&run);
    run_program(&run, nowhere, (const char *[])PLAN);
    expect(&run, 3, "out: the folder cannot be made: No such file or directory");
    end(&run);
}

/* Takes the folder away as soon as its first file is there; the packet, which takes longest to make, finds none any more. */
static bool taken_away(const struct run *run)
{
    char path[PATH_ROOM];
    (void)path_in(run, "out/shopping.csv", path);
    const pid_t thief = fork();
    if (thief == 0) {
        for (int tries = 0; access(path, F_OK) != 0 && tries < 60000; tries++)
            (void)usleep(200);
        _exit(rename("out", "taken") == 0 ? 0 : 1);
    }
    return thief > 0;
}

static void test_the_folder_is_taken_away(void **state)
{
    (void)state;
    struct run run;
    char path[PATH_ROOM];
    start(&run);
    run_program(&run, taken_away, (const char *[])PLAN);
    if (run.status != 0) /* so quick a machine has written everything before the thief woke */
        expect(&run, 3, "cannot be written: No such file or directory");
    assert_true(count_whole_files(path_in(&run, "taken", path)) > 0);
    assert_int_equal(count_whole_files(path_in(&run, "out", path)), 0);
    end(&run);
}

static bool reader_gone(const struct run *run)
{
    (void)run;
    int ends[2];
    return pipe(ends) == 0 && dup2(ends[1], STDOUT_FILENO) >= 0 && close(ends[0]) == 0 && close(ends[1]) == 0;
}

static void test_the_reader_is_gone(void **state)
{
    (void)state;
    struct run run;
    char path[PATH_ROOM];
    start(&run);
    run_program(&run, reader_gone, (const char *[])PLAN);
    expect(&run, 3, "the answer could not be written out");
    assert_int_equal(access(path_in(&run, "out/packet.pdf", path), F_OK), 0);
    assert_int_equal(access(path_in(&run, "out/plan.json", path), F_OK), 0);
    (void)count_whole_files(path_in(&run, "out", path));
    end(&run);
}

static bool answer_closed(const struct run *run)
{
    (void)run;
    return close(STDOUT_FILENO) == 0;
}

static bool all_closed(const struct run *run)
{
    (void)run;
    return close(STDIN_FILENO) == 0 && close(STDOUT_FILENO) == 0 && close(STDERR_FILENO) == 0;
}

static bool same_file(const struct run *one, const struct run *other, const char *name)
{
    char call[2 * PATH_ROOM];
    (void)snprintf(call, sizeof call, "cmp -s %.200s/%.100s %.200s/%.100s", one->folder, name, other->folder, name);
    return system(call) == 0;
}

/* A file of ours must not become stdout or stderr: it would get the answer into the middle of it. */
static void test_closed_streams(void **state)
{
    (void)state;
    static const char *const files[] = {"out/packet.pdf", "out/plan.json", "out/report.txt", "out/parts.csv"};
    struct run whole;
    struct run run[2];
    start(&whole);
    run_program(&whole, NULL, (const char *[])PLAN);
    expect(&whole, 0, "");
    for (size_t i = 0; i < 2; i++) {
        start(&run[i]);
        run_program(&run[i], i == 0 ? answer_closed : all_closed, (const char *[])PLAN);
        expect(&run[i], 3, i == 0 ? "the answer could not be written out" : "");
        for (size_t f = 0; f < sizeof files / sizeof *files; f++)
            assert_true(same_file(&whole, &run[i], files[f]));
        end(&run[i]);
    }
    end(&whole);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_limit_on_files),
        cmocka_unit_test(test_a_full_disk),
        cmocka_unit_test(test_a_full_answer),
        cmocka_unit_test(test_a_ledger_without_room),
        cmocka_unit_test(test_a_folder_only_to_be_read),
        cmocka_unit_test(test_a_job_that_is_none),
        cmocka_unit_test(test_the_folder_one_stands_in_is_gone),
        cmocka_unit_test(test_the_folder_is_taken_away),
        cmocka_unit_test(test_the_reader_is_gone),
        cmocka_unit_test(test_closed_streams),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
