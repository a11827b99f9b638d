/* cmd_page.c - serves the local page until it is interrupted; opens the browser where there is one. */
#include "cli.h"

#include <signal.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <drawerwright/memory.h>
#include <drawerwright/page.h>

/* Hands the address to the desktop; silent where there is none. */
static void open_browser(const char *address)
{
    const pid_t child = fork();
    if (child == 0) {
        (void)close(STDOUT_FILENO);
        (void)close(STDERR_FILENO);
        (void)signal(SIGPIPE, SIG_DFL);
        (void)signal(SIGXFSZ, SIG_DFL);
        (void)execlp("xdg-open", "xdg-open", address, (char *)NULL);
        _exit(127);
    }
    if (child > 0)
        (void)waitpid(child, NULL, 0);
}

/* Waits for an interrupt, which was blocked before the server's threads began. */
static void wait_for_end(const sigset_t *ends)
{
    int number = 0;
    (void)sigwait(ends, &number);
}

struct place {
    const char *named; /* as the maker wrote it; NULL: this folder */
    struct dw_arena *arena;
    struct dw_faults *faults;
    enum dw_status status;
    struct dw_page_options options;
};

/* "jobs/bench.json" is the job bench in the folder jobs; "jobs" is that folder. "jobs/" is one to begin in: it is made where there is none. */
static void split_body(void *context)
{
    struct place *place = context;
    struct stat status;
    place->options.folder = ".";
    if (place->named == NULL)
        return;
    if (stat(place->named, &status) == 0 && S_ISDIR(status.st_mode)) {
        place->options.folder = place->named;
        return;
    }
    const char *slash = strrchr(place->named, '/');
    if (slash != NULL && slash[1] == '\0') {
        place->options.folder = place->named;
        place->status = cli_make_folder(place->arena, place->named, place->faults);
        return;
    }
    const char *name = slash == NULL ? place->named : slash + 1;
    const size_t length = strlen(name);
    const size_t ending = length > 5 && strcmp(name + length - 5, ".json") == 0 ? 5 : 0;
    if (slash != NULL)
        place->options.folder = dw_arena_slice(place->arena, place->named, slash == place->named ? 1 : (size_t)(slash - place->named));
    place->options.job = dw_arena_slice(place->arena, name, length - ending);
}

enum dw_status cmd_page(const struct cli_options *options)
{
    struct dw_faults *faults = dw_faults_new();
    struct place place = {.named = options->file_count == 0 ? NULL : options->files[0], .arena = dw_arena_new(), .faults = faults, .options = {.port = (unsigned)options->port}};
    struct dw_page *page = NULL;
    sigset_t ends;
    (void)sigemptyset(&ends);
    (void)sigaddset(&ends, SIGINT);
    (void)sigaddset(&ends, SIGTERM);
    (void)sigprocmask(SIG_BLOCK, &ends, NULL);
    enum dw_status status = DW_SURROUNDINGS;
    if (faults != NULL && place.arena != NULL && dw_arena_guard(place.arena, split_body, &place))
        status = place.status;
    if (status == DW_DONE)
        status = dw_page_start(&place.options, faults, &page);
    if (status == DW_DONE) {
        printf("%s\n", dw_page_address(page));
        (void)fflush(stdout);
        if (!options->no_browser)
            open_browser(dw_page_address(page));
        wait_for_end(&ends);
    }
    dw_page_stop(page);
    if (faults != NULL)
        cli_report(faults, NULL, options->quiet);
    dw_faults_free(faults);
    dw_arena_free(place.arena);
    return status;
}
