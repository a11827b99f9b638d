/* bench_run.c - each run in a process of its own, so that its memory is its own and a crash is one line of the table. */
#include "bench.h"

#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include <drawerwright/memory.h>

#include "cutting/without.h"

/* Processor time of this process, which a busy machine stretches less than the time of day. */
static double now(void)
{
    struct timespec at;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &at);
    return (double)at.tv_sec + 1e-9 * (double)at.tv_nsec;
}

/* When the best cost fell last, by the progress reports. */
struct watch {
    double started;
    double seconds_to_best;
    int64_t best;
};

static void look(void *context, const struct dw_standing *standing)
{
    struct watch *watch = context;
    if (standing->best < 0 || (watch->best >= 0 && standing->best >= watch->best))
        return;
    watch->best = standing->best;
    watch->seconds_to_best = now() - watch->started;
}

static void read_plan(const struct dw_cut_plan *plan, struct outcome *outcome)
{
    outcome->outcome = plan->outcome;
    outcome->stop = plan->stop;
    outcome->cost = plan->cost;
    outcome->lower_bound = plan->lower_bound;
    outcome->proved = plan->proved;
    outcome->work_done = plan->work_done;
    for (size_t l = 0; l < plan->layout_count; l++)
        outcome->sheets += plan->layouts[l].times;
}

static struct outcome solve(const struct instance *instance, const struct manner *manner, bool turning)
{
    struct dw_cut_request request = instance->request;
    if (!instance->own_turns) {
        for (size_t p = 0; p < request.part_count; p++)
            instance->parts[p].turn = turning;
    }
    request.turns = manner->turns;
    request.first_cut = manner->first_cut;
    request.patience = manner->patience;
    request.work = manner->work;
    request.seed = manner->seed;
    request.threads = manner->threads;
    struct watch watch = {.started = now(), .best = -1};
    const struct dw_control control = {.progress = look, .context = &watch, .milliseconds = manner->milliseconds};
    struct dw_arena *arena = dw_arena_new();
    struct dw_faults *faults = dw_faults_new();
    const struct dw_cut_plan *plan = NULL;
    struct outcome outcome = {0};
    outcome.ran = dwi_solve_without(&request, manner->without, &control, arena, faults, &plan) == DW_DONE;
    outcome.seconds = now() - watch.started;
    outcome.seconds_to_best = watch.seconds_to_best;
    if (outcome.ran) {
        read_plan(plan, &outcome);
        outcome.checked = dw_cut_check(&request, plan, faults);
    }
    for (size_t f = 0; f < faults->count; f++)
        fprintf(stderr, "%s: %s at %s: %s\n", instance->name, faults->at[f].code, faults->at[f].address, faults->at[f].wrong);
    dw_faults_free(faults);
    dw_arena_free(arena);
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    outcome.megabytes = (double)usage.ru_maxrss / 1024;
    return outcome;
}

/* A run under way: its process and the pipe that its outcome comes through. */
struct runner {
    pid_t process;
    int pipe;
};

static struct runner start(const struct instance *instance, const struct manner *manner, bool turning)
{
    int ends[2];
    if (pipe(ends) != 0) {
        perror("dw-bench: pipe");
        exit(3);
    }
    fflush(NULL);
    const pid_t process = fork();
    if (process < 0) {
        perror("dw-bench: fork");
        exit(3);
    }
    if (process == 0) {
        const struct outcome outcome = solve(instance, manner, turning);
        _exit(write(ends[1], &outcome, sizeof outcome) == (ssize_t)sizeof outcome ? 0 : 3);
    }
    close(ends[1]);
    return (struct runner){process, ends[0]};
}

static struct outcome finish(struct runner runner)
{
    struct outcome outcome;
    if (read(runner.pipe, &outcome, sizeof outcome) != (ssize_t)sizeof outcome)
        outcome = (struct outcome){.ran = false};
    close(runner.pipe);
    waitpid(runner.process, NULL, 0);
    return outcome;
}

void bench_run(const struct instances *list, const struct manner *manner, bool turning,
               void (*report)(void *context, const struct instance *instance, const struct outcome *outcome), void *context)
{
    struct runner *runners = calloc(list->count + 1, sizeof *runners);
    if (runners == NULL)
        exit(3);
    size_t started = 0;
    for (size_t i = 0; i < list->count; i++) {
        for (; started < list->count && started < i + (size_t)manner->jobs; started++)
            runners[started] = start(&list->at[started], manner, turning);
        const struct outcome outcome = finish(runners[i]);
        report(context, &list->at[i], &outcome);
    }
    free(runners);
}
