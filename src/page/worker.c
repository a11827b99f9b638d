/* worker.c - see worker.h.
 *
 * State is shared under one mutex: what is wanted, what runs, what came out. The thread copies the wish, plans without the mutex, and puts the
 * result back if it is still the latest. A finished run's bytes live in its arena, which the next but one replaces.
 */
#include "worker.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <drawerwright/drawing.h>
#include <drawerwright/files.h>
#include <drawerwright/leeway.h>
#include <drawerwright/memory.h>
#include <drawerwright/rack.h>
#include <drawerwright/run.h>

enum { KEPT = 2, FORGOTTEN_SECONDS = 20, SHEET_WIDTH = 72000, SHEET_HEIGHT = 50000 };

/* What came out of a run; everything in the arena. */
struct outcome {
    int64_t run; /* 0: none */
    struct dw_arena *arena;
    struct dw_faults *faults;
    enum dw_status status;
    const char *answer; /* JSON members, without braces */
    const char *plan;
    size_t plan_length;
    const struct dw_purchase *purchase; /* for the packet */
};

struct wish {
    int64_t run; /* 0: none */
    char *id; /* owned, like the text */
    char *text;
    size_t length;
    enum dw_patience patience;
    bool use_rack;
    bool stopped; /* before it began */
};

static void free_wish(struct wish *wish)
{
    free(wish->id);
    free(wish->text);
    *wish = (struct wish){.run = 0};
}

struct dwi_worker {
    pthread_t thread;
    pthread_mutex_t mutex;
    pthread_cond_t changed;
    const char *folder;
    bool leaving;
    int64_t last_run;
    struct wish wish;      /* not begun yet */
    int64_t running;       /* 0: none */
    atomic_bool cancel;    /* of the running one */
    time_t asked_after;    /* when somebody last asked about the run */
    struct dw_standing standing;
    struct outcome kept[KEPT]; /* the latest first: a page may still ask for the one that it shows while the next is done already */
};

static time_t now(void)
{
    struct timespec time = {0};
    (void)clock_gettime(CLOCK_MONOTONIC, &time);
    return time.tv_sec;
}

/* ---- one run ---------------------------------------------------------------------------------------------- */

struct run {
    struct dwi_worker *worker;
    struct wish wish;
    struct outcome *outcome;
};

static void on_progress(void *context, const struct dw_standing *standing)
{
    struct dwi_worker *worker = context;
    (void)pthread_mutex_lock(&worker->mutex);
    worker->standing = *standing;
    worker->standing.what = "";
    if (now() - worker->asked_after > FORGOTTEN_SECONDS)
        atomic_store(&worker->cancel, true);
    (void)pthread_mutex_unlock(&worker->mutex);
}

static void add_sheets(const struct dw_purchase *purchase, struct outcome *outcome, struct dw_text *out)
{
    bool first = true;
    dw_text_add(out, ", \"drawings\": [");
    for (size_t m = 0; m < purchase->layouts->material_count; m++)
        for (size_t s = 0; s < purchase->layouts->materials[m].sheet_count; s++) {
            struct dw_scene scene;
            const char *bytes = NULL;
            size_t length = 0;
            if (purchase->layouts->materials[m].sheets[s].like != s)
                continue;
            if (dw_draw_sheet(purchase, m, s, SHEET_WIDTH, SHEET_HEIGHT, outcome->arena, outcome->faults, &scene) != DW_DONE ||
                dw_scene_svg(&scene, outcome->arena, outcome->faults, &bytes, &length) != DW_DONE)
                continue;
            dw_text_add(out, first ? "{\"name\": " : ", {\"name\": ");
            dw_json_quote(purchase->layouts->materials[m].sheets[s].name, out);
            dw_text_add(out, ", \"svg\": ");
            dw_json_quote(bytes, out);
            dw_text_add_char(out, '}');
            first = false;
        }
    dw_text_add_char(out, ']');
}

/* What was changed of the sizes that may give, in words. */
static void add_leeway(const struct dw_leeway *leeway, struct dw_text *out)
{
    dw_text_add(out, ", \"leeway\": [");
    if (leeway != NULL)
        dw_json_quote(leeway->words, out);
    for (size_t i = 0; leeway != NULL && i < leeway->change_count; i++) {
        dw_text_add(out, ", ");
        dw_json_quote(leeway->changes[i].words, out);
    }
    dw_text_add_char(out, ']');
}

static void answer(const struct dw_purchase *purchase, const struct dw_leeway *leeway, struct outcome *outcome)
{
    struct dw_text out = dw_text_in(outcome->arena);
    struct dw_text plan = dw_text_in(outcome->arena);
    dw_text_add(&out, "\"layouts\": ");
    (void)dw_json_layouts(purchase, &out);
    dw_text_add(&out, ", \"purchase\": ");
    (void)dw_json_purchase(purchase, &out);
    add_sheets(purchase, outcome, &out);
    add_leeway(leeway, &out);
    (void)dw_json_plan(purchase, outcome->faults, &plan);
    outcome->answer = out.bytes;
    outcome->plan = plan.bytes;
    outcome->plan_length = plan.length;
    outcome->purchase = purchase;
}

static enum dw_status use_rack(const struct run *run, struct dw_layout_options *options)
{
    struct outcome *outcome = run->outcome;
    struct dw_rack *rack = NULL;
    struct dw_offcuts offcuts = {.count = 0};
    enum dw_status status = dw_rack_open(dw_arena_format(outcome->arena, "%s/rack.db", run->worker->folder), outcome->faults, &rack);
    if (status == DW_DONE)
        status = dw_rack_list(rack, NULL, outcome->arena, outcome->faults, &offcuts);
    dw_rack_close(rack);
    struct dw_owned *owned = dw_arena_alloc(outcome->arena, offcuts.count, sizeof *owned);
    for (size_t i = 0; i < offcuts.count; i++)
        owned[i] = (struct dw_owned){.id = offcuts.at[i].id, .material = offcuts.at[i].material, .length = offcuts.at[i].length,
                                     .width = offcuts.at[i].width, .grain_across = offcuts.at[i].grain_across, .value = offcuts.at[i].value, .count = 1};
    options->owned = owned;
    options->owned_count = offcuts.count;
    return status;
}

/* The job gives sizes ranges: they may give to save a sheet, as on the command line. */
static enum dw_status let_sizes_give(struct dw_run *line, const struct dw_layout_options *options, const struct dw_control *control,
                                     struct outcome *outcome, const struct dw_leeway **leeway)
{
    static const struct dw_leeway_options told = {.keep_count = 0};
    const enum dw_status status =
        dw_leeway_search(line->jobs, line->job_count, line->purchase, &told, options, control, outcome->arena, outcome->faults, leeway);
    if (status == DW_DONE)
        line->purchase = dw_leeway_tell((*leeway)->purchase, *leeway, NULL, outcome->arena);
    return status;
}

static void run_body(void *context)
{
    struct run *run = context;
    struct outcome *outcome = run->outcome;
    struct dw_layout_options options = {.patience = run->wish.patience, .threads = 2};
    const struct dw_control control = {.cancel = &run->worker->cancel, .progress = on_progress, .context = run->worker};
    const struct dw_job *job = NULL;
    struct dw_run line = {0};
    outcome->status = dw_job_read_text(run->wish.text, run->wish.length, run->wish.id, run->worker->folder, NULL, outcome->arena, outcome->faults, &job);
    if (outcome->status == DW_DONE && run->wish.use_rack)
        outcome->status = use_rack(run, &options);
    if (outcome->status == DW_DONE)
        outcome->status = dw_run_jobs(&job, 1, DW_STAGE_LAYOUT, &options, &control, outcome->arena, outcome->faults, &line);
    const struct dw_leeway *leeway = NULL;
    if (outcome->status == DW_DONE && dw_leeway_is_told(line.jobs[0]))
        outcome->status = let_sizes_give(&line, &options, &control, outcome, &leeway);
    if (outcome->status == DW_DONE)
        answer(line.purchase, leeway, outcome);
}

static void clear_outcome(struct outcome *outcome)
{
    dw_arena_free(outcome->arena);
    dw_faults_free(outcome->faults);
    *outcome = (struct outcome){.status = DW_DONE};
}

static struct outcome do_run(struct dwi_worker *worker, const struct wish *wish)
{
    struct outcome outcome = {.run = wish->run, .arena = dw_arena_new(), .faults = dw_faults_new()};
    struct run run = {.worker = worker, .wish = *wish, .outcome = &outcome};
    if (outcome.arena == NULL || outcome.faults == NULL || !dw_arena_guard(outcome.arena, run_body, &run))
        outcome.status = DW_SURROUNDINGS;
    return outcome;
}

/* ---- the thread ------------------------------------------------------------------------------------------- */

static void keep(struct dwi_worker *worker, const struct outcome *outcome)
{
    clear_outcome(&worker->kept[KEPT - 1]);
    memmove(&worker->kept[1], &worker->kept[0], (KEPT - 1) * sizeof *worker->kept);
    worker->kept[0] = *outcome;
}

static const struct outcome *find_kept(const struct dwi_worker *worker, int64_t run)
{
    for (size_t i = 0; i < KEPT; i++)
        if (run != 0 && worker->kept[i].run == run)
            return &worker->kept[i];
    return NULL;
}

static void *work(void *context)
{
    struct dwi_worker *worker = context;
    (void)pthread_mutex_lock(&worker->mutex);
    while (!worker->leaving) {
        if (worker->wish.run == 0) {
            (void)pthread_cond_wait(&worker->changed, &worker->mutex);
            continue;
        }
        struct wish wish = worker->wish;
        worker->wish = (struct wish){.run = 0};
        worker->running = wish.run;
        worker->standing = (struct dw_standing){.what = "", .best = -1};
        atomic_store(&worker->cancel, wish.stopped);
        (void)pthread_mutex_unlock(&worker->mutex);
        struct outcome outcome = do_run(worker, &wish);
        (void)pthread_mutex_lock(&worker->mutex);
        keep(worker, &outcome);
        worker->running = 0;
        free_wish(&wish);
    }
    (void)pthread_mutex_unlock(&worker->mutex);
    return NULL;
}

struct dwi_worker *dwi_worker_new(const char *folder)
{
    struct dwi_worker *worker = calloc(1, sizeof *worker);
    if (worker == NULL)
        return NULL;
    worker->folder = folder;
    (void)pthread_mutex_init(&worker->mutex, NULL);
    (void)pthread_cond_init(&worker->changed, NULL);
    if (pthread_create(&worker->thread, NULL, work, worker) != 0) {
        (void)pthread_cond_destroy(&worker->changed);
        (void)pthread_mutex_destroy(&worker->mutex);
        free(worker);
        return NULL;
    }
    return worker;
}

void dwi_worker_free(struct dwi_worker *worker)
{
    if (worker == NULL)
        return;
    (void)pthread_mutex_lock(&worker->mutex);
    worker->leaving = true;
    atomic_store(&worker->cancel, true);
    (void)pthread_cond_signal(&worker->changed);
    (void)pthread_mutex_unlock(&worker->mutex);
    (void)pthread_join(worker->thread, NULL);
    free_wish(&worker->wish);
    for (size_t i = 0; i < KEPT; i++)
        clear_outcome(&worker->kept[i]);
    (void)pthread_cond_destroy(&worker->changed);
    (void)pthread_mutex_destroy(&worker->mutex);
    free(worker);
}

/* ---- what is asked of it ---------------------------------------------------------------------------------- */

int64_t dwi_worker_start(struct dwi_worker *worker, const char *id, const char *text, size_t length, enum dw_patience patience, bool use_the_rack)
{
    struct wish wish = {.id = strdup(id), .text = malloc(length + 1), .length = length, .patience = patience, .use_rack = use_the_rack};
    if (wish.id == NULL || wish.text == NULL) {
        free_wish(&wish);
        return 0;
    }
    memcpy(wish.text, text, length);
    wish.text[length] = '\0';
    (void)pthread_mutex_lock(&worker->mutex);
    free_wish(&worker->wish);
    wish.run = ++worker->last_run;
    worker->wish = wish;
    worker->asked_after = now();
    atomic_store(&worker->cancel, true); /* of the one before */
    (void)pthread_cond_signal(&worker->changed);
    (void)pthread_mutex_unlock(&worker->mutex);
    return wish.run;
}

void dwi_worker_stop(struct dwi_worker *worker, int64_t run)
{
    (void)pthread_mutex_lock(&worker->mutex);
    if (worker->running == run)
        atomic_store(&worker->cancel, true);
    if (worker->wish.run == run)
        worker->wish.stopped = true;
    (void)pthread_mutex_unlock(&worker->mutex);
}

/* A copy of what is to be told, made under the mutex. */
struct telling {
    struct dwi_worker *worker;
    int64_t run;
    struct dw_text *out;
};

static void tell_body(void *context)
{
    const struct telling *telling = context;
    const struct dwi_worker *worker = telling->worker;
    struct dw_text *out = telling->out;
    const struct outcome *outcome = find_kept(worker, telling->run);
    if (outcome != NULL) {
        dw_text_addf(out, "{\"state\": \"%s\", \"faults\": ", outcome->status == DW_DONE ? "done" : "failed");
        if (outcome->faults == NULL)
            dw_text_add(out, "[]");
        else
            dw_json_faults(outcome->faults, out);
        if (outcome->answer != NULL)
            dw_text_addf(out, ", %s", outcome->answer);
        dw_text_add(out, "}\n");
    } else if (worker->running == telling->run || worker->wish.run == telling->run) {
        dw_text_addf(out, "{\"state\": \"working\", \"best\": %lld, \"lower_bound\": %lld, \"done\": %lld, \"allowed\": %lld}\n",
                     (long long)worker->standing.best, (long long)worker->standing.lower_bound, (long long)worker->standing.work_done,
                     (long long)worker->standing.work_allowed);
    } else {
        dw_text_add(out, "{\"state\": \"gone\"}\n");
    }
}

void dwi_worker_tell(struct dwi_worker *worker, int64_t run, struct dw_text *out)
{
    struct telling telling = {.worker = worker, .run = run, .out = out};
    (void)pthread_mutex_lock(&worker->mutex);
    worker->asked_after = now();
    /* a guard of its own, so that memory that runs out cannot leave with the mutex */
    if (!dw_arena_guard(out->arena, tell_body, &telling))
        out->length = 0;
    (void)pthread_mutex_unlock(&worker->mutex);
}

/* What is fetched of a finished run, under the mutex and in a guard of its own. */
struct fetching {
    const struct outcome *outcome;
    const struct dw_packet_options *options; /* of the packet */
    struct dw_arena *arena;
    struct dw_faults *faults;
    const char *bytes;
    size_t length;
};

static void fetch_plan(void *context)
{
    struct fetching *fetching = context;
    fetching->length = fetching->outcome->plan_length;
    fetching->bytes = dw_arena_slice(fetching->arena, fetching->outcome->plan, fetching->length);
}

static void fetch_packet(void *context)
{
    struct fetching *fetching = context;
    const struct dw_purchase *purchase = fetching->outcome->purchase;
    struct dw_scenes pages;
    if (dw_draw_packet(purchase, fetching->outcome->faults, fetching->options, fetching->arena, fetching->faults, &pages) == DW_DONE)
        (void)dw_scenes_pdf(&pages, purchase->layouts->jobs[0]->sizing->job->name, fetching->arena, fetching->faults, &fetching->bytes, &fetching->length);
}

static const char *fetch(struct dwi_worker *worker, int64_t run, void (*body)(void *), struct fetching *fetching, size_t *length)
{
    (void)pthread_mutex_lock(&worker->mutex);
    fetching->outcome = find_kept(worker, run);
    const bool there = fetching->outcome != NULL && fetching->outcome->purchase != NULL;
    const bool whole = there && dw_arena_guard(fetching->arena, body, fetching);
    (void)pthread_mutex_unlock(&worker->mutex);
    *length = whole ? fetching->length : 0;
    return whole ? fetching->bytes : NULL;
}

const char *dwi_worker_packet(struct dwi_worker *worker, int64_t run, const struct dw_packet_options *options, struct dw_arena *arena,
                              struct dw_faults *faults, size_t *length)
{
    struct fetching fetching = {.options = options, .arena = arena, .faults = faults};
    return fetch(worker, run, fetch_packet, &fetching, length);
}

const char *dwi_worker_plan(struct dwi_worker *worker, int64_t run, struct dw_arena *arena, size_t *length)
{
    struct fetching fetching = {.arena = arena};
    return fetch(worker, run, fetch_plan, &fetching, length);
}
