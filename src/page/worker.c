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
#include <drawerwright/memory.h>

#include "planning.h"

enum { KEPT = 2, FORGOTTEN_SECONDS = 20 };

/* What came out of a run. */
struct kept {
    int64_t run;  /* 0: none */
    int64_t also; /* a later run that was stopped with nothing better; 0 */
    char *text;   /* that was planned; owned */
    bool use_rack, leeway;
    struct dwi_outcome outcome;
};

struct waiting {
    int64_t run; /* 0: none */
    char *id; /* owned, like the other texts */
    char *text;
    char *follows, *only;
    struct dwi_wish wish;
    bool stopped; /* before it began */
};

static void free_waiting(struct waiting *waiting)
{
    free(waiting->id);
    free(waiting->text);
    free(waiting->follows);
    free(waiting->only);
    *waiting = (struct waiting){.run = 0};
}

struct dwi_worker {
    pthread_t thread;
    pthread_mutex_t mutex;
    pthread_cond_t changed;
    const char *folder;
    time_t forgotten_after;
    bool leaving;
    int64_t last_run;
    struct waiting waiting; /* not begun yet */
    int64_t running;        /* 0: none */
    atomic_bool cancel;     /* of the running one */
    time_t asked_after;     /* when somebody last asked about the run */
    const char *what;       /* what it is about */
    struct dwi_glimpses *glimpses; /* of it, while it lays out sheets */
    struct kept kept[KEPT]; /* the latest first: a page may still ask for the one that it shows while the next is done already */
};

static time_t now(void)
{
    struct timespec time = {0};
    (void)clock_gettime(CLOCK_MONOTONIC, &time);
    return time.tv_sec;
}

/* ---- following a run --------------------------------------------------------------------------------------- */

static void has_begun(void *context, struct dwi_glimpses *glimpses)
{
    struct dwi_worker *worker = context;
    (void)pthread_mutex_lock(&worker->mutex);
    worker->glimpses = glimpses;
    (void)pthread_mutex_unlock(&worker->mutex);
}

static void has_come_to(void *context, const char *what)
{
    struct dwi_worker *worker = context;
    (void)pthread_mutex_lock(&worker->mutex);
    worker->what = what;
    (void)pthread_mutex_unlock(&worker->mutex);
}

/* Only this thread of the run changes the glimpses, so what it draws may be drawn without the mutex. */
static void stands(void *context, const struct dw_standing *standing)
{
    struct dwi_worker *worker = context;
    const bool of_plan = worker->glimpses != NULL && standing->what[0] != '\0';
    const struct dwi_drawn drawn = of_plan ? dwi_glimpses_draw(worker->glimpses, standing) : (struct dwi_drawn){.arena = NULL};
    (void)pthread_mutex_lock(&worker->mutex);
    if (of_plan)
        dwi_glimpses_put(worker->glimpses, standing, drawn);
    if (now() - worker->asked_after > worker->forgotten_after)
        atomic_store(&worker->cancel, true);
    (void)pthread_mutex_unlock(&worker->mutex);
}

/* ---- the thread ------------------------------------------------------------------------------------------- */

static void drop_kept(struct kept *kept)
{
    free(kept->text);
    dwi_outcome_drop(&kept->outcome);
    *kept = (struct kept){.run = 0};
}

static bool is_run(const struct kept *kept, int64_t run)
{
    return run != 0 && (kept->run == run || kept->also == run);
}

/* The finished run that this one is to go on from; NULL when there is none, or it was of something else. */
static struct kept *same_as(struct dwi_worker *worker, const struct waiting *waiting)
{
    for (size_t i = 0; i < KEPT; i++) {
        struct kept *kept = &worker->kept[i];
        if (is_run(kept, waiting->wish.after) && kept->outcome.purchase != NULL && kept->use_rack == waiting->wish.use_rack && kept->leeway == waiting->wish.leeway &&
            strcmp(kept->text, waiting->text) == 0)
            return kept;
    }
    return NULL;
}

/* A run that was stopped may have less than what was there before it: then that stands for it too. */
static bool is_worse(const struct dwi_outcome *outcome, const struct kept *before)
{
    return before != NULL && outcome->purchase != NULL && outcome->purchase->stop == DW_STOP_CANCEL &&
           outcome->purchase->sheets_cost > before->outcome.purchase->sheets_cost;
}

static void keep(struct dwi_worker *worker, struct waiting *done, struct dwi_outcome *outcome, struct kept *before)
{
    if (is_worse(outcome, before)) {
        before->also = done->run;
        dwi_outcome_drop(outcome);
        return;
    }
    drop_kept(&worker->kept[KEPT - 1]);
    memmove(&worker->kept[1], &worker->kept[0], (KEPT - 1) * sizeof *worker->kept);
    worker->kept[0] = (struct kept){.run = done->run, .text = done->text, .use_rack = done->wish.use_rack, .leeway = done->wish.leeway, .outcome = *outcome};
    done->text = NULL;
}

static const struct dwi_outcome *find_kept(const struct dwi_worker *worker, int64_t run)
{
    for (size_t i = 0; i < KEPT; i++)
        if (is_run(&worker->kept[i], run))
            return &worker->kept[i].outcome;
    return NULL;
}

/* Only this thread drops what is kept, so that the plan before may be read without the mutex. */
static void run(struct dwi_worker *worker)
{
    struct waiting waiting = worker->waiting;
    const struct dwi_follower follower = {.context = worker, .has_begun = has_begun, .has_come_to = has_come_to, .stands = stands};
    struct kept *before = same_as(worker, &waiting);
    worker->waiting = (struct waiting){.run = 0};
    worker->running = waiting.run;
    worker->what = "sheets";
    atomic_store(&worker->cancel, waiting.stopped);
    (void)pthread_mutex_unlock(&worker->mutex);
    struct dwi_outcome outcome = dwi_plan(worker->folder, &waiting.wish, before == NULL ? NULL : before->outcome.purchase, &worker->cancel, &follower);
    (void)pthread_mutex_lock(&worker->mutex);
    keep(worker, &waiting, &outcome, before);
    worker->running = 0;
    free_waiting(&waiting);
}

static void *work(void *context)
{
    struct dwi_worker *worker = context;
    (void)pthread_mutex_lock(&worker->mutex);
    while (!worker->leaving) {
        if (worker->waiting.run == 0)
            (void)pthread_cond_wait(&worker->changed, &worker->mutex);
        else
            run(worker);
    }
    (void)pthread_mutex_unlock(&worker->mutex);
    return NULL;
}

struct dwi_worker *dwi_worker_new(const char *folder, int64_t forgotten_seconds)
{
    struct dwi_worker *worker = calloc(1, sizeof *worker);
    if (worker == NULL)
        return NULL;
    worker->folder = folder;
    worker->forgotten_after = forgotten_seconds > 0 ? (time_t)forgotten_seconds : FORGOTTEN_SECONDS;
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
    free_waiting(&worker->waiting);
    for (size_t i = 0; i < KEPT; i++)
        drop_kept(&worker->kept[i]);
    (void)pthread_cond_destroy(&worker->changed);
    (void)pthread_mutex_destroy(&worker->mutex);
    free(worker);
}

/* ---- what is asked of it ---------------------------------------------------------------------------------- */

int64_t dwi_worker_start(struct dwi_worker *worker, const struct dwi_wish *wish)
{
    struct waiting waiting = {.id = strdup(wish->id), .text = malloc(wish->length + 1), .follows = strdup(wish->follows), .only = strdup(wish->only), .wish = *wish};
    if (waiting.id == NULL || waiting.text == NULL || waiting.follows == NULL || waiting.only == NULL) {
        free_waiting(&waiting);
        return 0;
    }
    memcpy(waiting.text, wish->text, wish->length);
    waiting.text[wish->length] = '\0';
    waiting.wish.id = waiting.id;
    waiting.wish.text = waiting.text;
    waiting.wish.follows = waiting.follows;
    waiting.wish.only = waiting.only;
    (void)pthread_mutex_lock(&worker->mutex);
    free_waiting(&worker->waiting);
    waiting.run = ++worker->last_run;
    worker->waiting = waiting;
    worker->asked_after = now();
    atomic_store(&worker->cancel, true); /* of the one before */
    (void)pthread_cond_signal(&worker->changed);
    (void)pthread_mutex_unlock(&worker->mutex);
    return waiting.run;
}

void dwi_worker_stop(struct dwi_worker *worker, int64_t run)
{
    (void)pthread_mutex_lock(&worker->mutex);
    if (worker->running == run)
        atomic_store(&worker->cancel, true);
    if (worker->waiting.run == run)
        worker->waiting.stopped = true;
    (void)pthread_mutex_unlock(&worker->mutex);
}

struct telling {
    struct dwi_worker *worker;
    int64_t run, seen;
    struct dw_text *out;
};

static void tell_outcome(const struct dwi_outcome *outcome, struct dw_text *out)
{
    dw_text_addf(out, "{\"state\": \"%s\", \"faults\": ", outcome->status == DW_DONE ? "done" : "failed");
    if (outcome->faults == NULL)
        dw_text_add(out, "[]");
    else
        dw_json_faults(outcome->faults, out);
    if (outcome->answer != NULL)
        dw_text_addf(out, ", %s", outcome->answer);
    dw_text_add(out, "}\n");
}

static void tell_body(void *context)
{
    const struct telling *telling = context;
    const struct dwi_worker *worker = telling->worker;
    struct dw_text *out = telling->out;
    const struct dwi_outcome *outcome = find_kept(worker, telling->run);
    if (outcome != NULL) {
        tell_outcome(outcome, out);
        return;
    }
    if (worker->running != telling->run && worker->waiting.run != telling->run) {
        dw_text_add(out, "{\"state\": \"gone\"}\n");
        return;
    }
    const bool begun = worker->running == telling->run;
    dw_text_addf(out, "{\"state\": \"working\", \"what\": \"%s\"", begun ? worker->what : "sheets");
    if (begun && worker->glimpses != NULL)
        dwi_glimpses_tell(worker->glimpses, telling->seen, out);
    dw_text_add(out, "}\n");
}

void dwi_worker_tell(struct dwi_worker *worker, int64_t run, int64_t seen, struct dw_text *out)
{
    struct telling telling = {.worker = worker, .run = run, .seen = seen, .out = out};
    (void)pthread_mutex_lock(&worker->mutex);
    worker->asked_after = now();
    /* a guard of its own, so that memory that runs out cannot leave with the mutex */
    if (!dw_arena_guard(out->arena, tell_body, &telling))
        out->length = 0;
    (void)pthread_mutex_unlock(&worker->mutex);
}

/* What is fetched of a finished run, under the mutex and in a guard of its own. */
struct fetching {
    const struct dwi_outcome *outcome;
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
