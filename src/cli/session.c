/* session.c - one call of the program: read, run, answer, report; with progress and a way to stop.
 *
 * Answers go to stdout, everything else to stderr. An interrupt asks the search to stop with the best so far; a second one
 * ends the program in the usual way.
 */
#include "cli.h"

#include <signal.h>
#include <string.h>
#include <unistd.h>

#include <drawerwright/memory.h>
#include <drawerwright/plan.h>
#include <drawerwright/rack.h>

/* The one mutable static of the program: a signal handler has no other way to be heard. */
static atomic_bool stop_asked;

static void on_interrupt(int number)
{
    if (atomic_exchange(&stop_asked, true)) {
        (void)signal(number, SIG_DFL);
        (void)raise(number);
    }
}

static void show_progress(void *context, const struct dw_standing *standing)
{
    const struct dw_currency *currency = context;
    double scale = 1.0;
    for (int i = 0; i < currency->decimals; i++)
        scale *= 10.0;
    const int share = standing->work_allowed > 0 ? (int)(standing->work_done * 100 / standing->work_allowed) : 0;
    if (standing->best < 0)
        fprintf(stderr, "\r\033[K%s: looking, %d %% of the patience used", standing->what, share);
    else
        fprintf(stderr, "\r\033[K%s: best %.*f, at least %.*f, %d %% of the patience used (Ctrl-C keeps this one)", standing->what,
                currency->decimals, (double)standing->best / scale, currency->decimals, (double)standing->lower_bound / scale, share);
    (void)fflush(stderr);
}

static void set_layout_options(const struct cli_options *options, struct dw_layout_options *layout)
{
    enum dw_patience patience = DW_COFFEE;
    if (options->patience != NULL)
        (void)dw_patience_parse(options->patience, &patience);
    *layout = (struct dw_layout_options){.patience = patience,
                                         .milliseconds = options->seconds * 1000,
                                         .seed = (uint64_t)options->seed,
                                         .threads = (int)options->threads,
                                         .turns = (int)options->turns};
    if (options->first != NULL)
        layout->first_cut = strcmp(options->first, "along") == 0 ? 1 : 2;
}

/* Is this the file of the job of that id: its name without path and ending? */
static bool is_of_job(const char *path, const char *id)
{
    const char *slash = strrchr(path, '/');
    const char *name = slash == NULL ? path : slash + 1;
    const size_t length = strlen(id);
    return strncmp(name, id, length) == 0 && (name[length] == '\0' || (name[length] == '.' && strchr(name + length + 1, '.') == NULL));
}

/* What the plans before settled for a job, and then the settings of this call, which go before it. */
static const char *const *settings_of(const struct cli_session *session, const char *path, size_t *count)
{
    const struct cli_options *options = session->options;
    const size_t given = session->before == NULL ? 0 : session->before->given_count;
    const char **settings = dw_arena_alloc(session->arena, given + options->setting_count, sizeof *settings);
    *count = 0;
    for (size_t i = 0; i < given; i++)
        if (is_of_job(path, session->before->given[i].job))
            settings[(*count)++] = dw_arena_format(session->arena, "%s=%s", session->before->given[i].address, session->before->given[i].value);
    for (size_t i = 0; i < options->setting_count; i++)
        settings[(*count)++] = options->settings[i];
    return settings;
}

/* Reads every job named; returns the gravest status. */
static enum dw_status read_jobs(struct cli_session *session, const struct dw_job **jobs)
{
    const struct cli_options *options = session->options;
    const size_t first = session->replan ? 1 : 0;
    enum dw_status gravest = DW_DONE;
    if (session->replan)
        gravest = dw_plan_read_file(options->files[0], session->arena, session->faults, &session->before);
    for (size_t i = first; i < options->file_count; i++) {
        struct dw_read_options read = {.shop = options->shop, .one_of_several = options->file_count > first + 1};
        read.settings = settings_of(session, options->files[i], &read.setting_count);
        const enum dw_status status = dw_job_read_file(options->files[i], &read, session->arena, session->faults, jobs++);
        gravest = status > gravest ? status : gravest;
    }
    return gravest;
}

/* The rack's ledger: as named, or rack.db in the folder of the first job. */
static const char *rack_path(const struct cli_session *session)
{
    const struct cli_options *options = session->options;
    const char *slash = strrchr(options->files[0], '/');
    if (session->replan)
        return cli_ledger(options);
    if (options->rack_file != NULL)
        return options->rack_file;
    return slash == NULL ? "rack.db" : dw_arena_format(session->arena, "%.*s/rack.db", (int)(slash - options->files[0]), options->files[0]);
}

/* What the rack holds, as sheets that are owned, behind those that are known. */
static enum dw_status use_rack(struct cli_session *session, struct dw_layout_options *layout)
{
    const char *path = rack_path(session);
    struct dw_rack *rack = NULL;
    if (access(path, F_OK) != 0) {
        dw_error(session->faults, DW_SURROUNDINGS, "no-rack", path, "there is no rack here yet\nput an offcut in first: drawerwright rack add MATERIAL LENGTH WIDTH --rack-file %s", path);
        return DW_SURROUNDINGS;
    }
    enum dw_status status = dw_rack_open(path, session->faults, &rack);
    if (status == DW_DONE)
        status = dw_run_use_rack(rack, session->progress, session->arena, session->faults, layout);
    dw_rack_close(rack);
    return status;
}

/* Sizes give where --leeway or the jobs say so, and the plan that comes of it is taken. */
static void let_sizes_give(struct cli_session *session, const struct dw_run_rest *rest, const struct dw_layout_options *layout,
                           const struct dw_control *control)
{
    const struct cli_options *options = session->options;
    const struct dw_leeway_options leeway = {.keep = options->keep, .keep_count = options->keep_count, .habits = options->leeway};
    bool asked = options->leeway;
    for (size_t j = 0; j < session->run.job_count; j++)
        asked = asked || dw_leeway_is_told(session->run.jobs[j]);
    if (!asked)
        return;
    session->status = dw_run_leeway(&session->run, rest, &leeway, layout, control, session->arena, session->faults, &session->leeway);
    if (session->status != DW_DONE)
        return;
    session->run.sizings = session->leeway->sizings;
    session->run.parts = session->leeway->parts;
    session->run.purchase = session->leeway->purchase;
}

/* Whether something small, told or not, almost saved a sheet of the plan as it is now. */
static void look_for_near_misses(struct cli_session *session, const struct dw_run_rest *rest, const struct dw_layout_options *layout,
                                 const struct dw_control *control)
{
    const struct cli_options *options = session->options;
    const struct dw_leeway_options near = {
        .keep = options->keep, .keep_count = options->keep_count, .near = session->run.jobs[0]->shop.habits.leeway.near};
    const struct dw_job **jobs = dw_arena_alloc(session->arena, session->run.job_count, sizeof *jobs);
    if (near.near == 0 || session->status != DW_DONE)
        return;
    for (size_t j = 0; j < session->run.job_count; j++)
        jobs[j] = session->run.sizings[j]->job;
    struct dw_run run = session->run;
    run.jobs = jobs;
    session->status = dw_run_leeway(&run, rest, &near, layout, control, session->arena, session->faults, &session->near);
}

/* Before the search, so that nobody waits for a plan that cannot be written. */
static enum dw_status prepare_output(struct cli_session *session, const struct dw_job *first)
{
    struct dw_packet_options packet;
    const enum dw_status status = cli_packet_options(session->arena, session->options, first->unit, session->faults, &packet);
    return status == DW_DONE ? cli_make_folder(session->arena, session->options->out, session->faults) : status;
}

static void run_body(void *context)
{
    struct cli_session *session = context;
    const struct cli_options *options = session->options;
    const struct dw_job **jobs = dw_arena_alloc(session->arena, options->file_count, sizeof *jobs);
    session->status = read_jobs(session, jobs);
    if (session->status == DW_DONE && session->last == DW_STAGE_LAYOUT && options->out != NULL)
        session->status = prepare_output(session, jobs[0]);
    if (session->status != DW_DONE)
        return;
    struct dw_layout_options layout;
    set_layout_options(options, &layout);
    struct dw_run_rest rest = {.only_count = 0};
    if (options->only != NULL)
        session->status = dw_run_only(options->only, session->arena, session->faults, &rest);
    if (session->status == DW_DONE && session->replan)
        session->status = cli_replan_prepare(session, &rest, &layout);
    if (session->status == DW_DONE && options->rack && session->last == DW_STAGE_LAYOUT)
        session->status = use_rack(session, &layout);
    if (session->status != DW_DONE)
        return;
    struct dw_currency currency = jobs[0]->shop.prices.currency;
    const bool show = !options->quiet && !options->json && isatty(STDERR_FILENO);
    const struct dw_control control = {
        .cancel = &stop_asked, .progress = show ? show_progress : NULL, .context = &currency, .milliseconds = layout.milliseconds};
    const size_t job_count = options->file_count - (session->replan ? 1 : 0);
    const bool partly = session->last == DW_STAGE_LAYOUT && (rest.only_count > 0 || rest.follows); /* not all parts */
    if (partly)
        session->status = dw_run_rest(jobs, job_count, &rest, &layout, &control, session->arena, session->faults, &session->run);
    else
        session->status = dw_run_jobs(jobs, job_count, session->last, &layout, &control, session->arena, session->faults, &session->run);
    if (session->status == DW_DONE && session->last == DW_STAGE_LAYOUT)
        let_sizes_give(session, partly ? &rest : NULL, &layout, &control);
    if (session->status == DW_DONE && session->near_misses)
        look_for_near_misses(session, partly ? &rest : NULL, &layout, &control);
    if (session->run.purchase != NULL)
        session->run.purchase = dw_leeway_tell(session->run.purchase, session->leeway, session->near, session->arena);
    if (show && session->last == DW_STAGE_LAYOUT)
        fputs("\r\033[K", stderr);
}

static void out_of_memory(struct cli_session *session)
{
    fputs("drawerwright: error: memory ran out\n", stderr);
    session->status = DW_SURROUNDINGS;
}

struct report {
    const struct dw_faults *faults;
    const struct dw_run *run; /* or NULL */
    bool quiet;
    struct dw_arena *arena;
};

static void report_body(void *context)
{
    const struct report *report = context;
    struct dw_text text = dw_text_in(report->arena);
    cli_print_faults(report->faults, report->run, report->quiet, &text);
    (void)fwrite(text.bytes, 1, text.length, stderr);
}

void cli_report(const struct dw_faults *faults, const struct dw_run *run, bool quiet)
{
    struct report report = {.faults = faults, .run = run, .quiet = quiet, .arena = dw_arena_new()};
    if (report.arena == NULL || !dw_arena_guard(report.arena, report_body, &report) || faults->out_of_memory)
        fputs("drawerwright: error: memory ran out\n", stderr);
    dw_arena_free(report.arena);
}

enum dw_status cli_session_start(struct cli_session *session, const struct cli_options *options, enum dw_stage last)
{
    const bool near_misses = session->near_misses;
    const bool replan = session->replan;
    *session = (struct cli_session){.options = options, .last = last, .near_misses = near_misses, .replan = replan, .arena = dw_arena_new(), .faults = dw_faults_new()};
    (void)signal(SIGINT, on_interrupt);
    if (session->arena == NULL || session->faults == NULL || !dw_arena_guard(session->arena, run_body, session))
        out_of_memory(session);
    return session->status;
}

static void answer_body(void *context)
{
    struct cli_session *session = context;
    struct dw_text out = dw_text_in(session->arena);
    session->status = session->answer(session, &out);
    (void)fwrite(out.bytes, 1, out.length, stdout);
}

enum dw_status cli_session_end(struct cli_session *session, cli_answer *answer)
{
    session->answer = answer;
    if (answer != NULL && session->status == DW_DONE && !dw_arena_guard(session->arena, answer_body, session))
        out_of_memory(session);
    if (session->faults != NULL)
        cli_report(session->faults, &session->run, session->options->quiet);
    dw_faults_free(session->faults);
    dw_arena_free(session->arena);
    return session->status;
}

enum dw_status cli_session_run(const struct cli_options *options, enum dw_stage last, cli_answer *answer)
{
    struct cli_session session = {.near_misses = false};
    (void)cli_session_start(&session, options, last);
    return cli_session_end(&session, answer);
}
