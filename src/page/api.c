/* api.c - the table of what the page may ask, and its answers. Sizing is done at once (milliseconds); planning goes to the worker. */
#include "api.h"

#include <inttypes.h>
#include <string.h>

#include <drawerwright/drawing.h>
#include <drawerwright/files.h>
#include <drawerwright/memory.h>
#include <drawerwright/run.h>

#include "assets.h"
#include "call.h"
#include "store.h"

static struct dwi_answer wrong_id(struct call *call)
{
    dw_error(call->faults, DW_INPUT, "bad-id", "id", "this is no name for a job\nuse letters, digits, spaces, - and _");
    return dwi_call_faults(call, DW_INPUT);
}

/* ---- files ------------------------------------------------------------------------------------------------- */

/* The ids of the samples that are built in: they are served as /samples/ID.json. */
static void add_samples(struct call *call)
{
    static const char folder[] = "/samples/";
    const char *lead = "";
    for (const struct dwi_asset *asset = dwi_assets; asset->path != NULL; asset++) {
        if (strncmp(asset->path, folder, sizeof folder - 1) != 0)
            continue;
        const char *name = asset->path + sizeof folder - 1;
        dwi_call_member(call, lead, dw_arena_slice(call->arena, name, strcspn(name, ".")));
        lead = ", ";
    }
}

/* {"files": [{"id", "draft", "job"}], "samples": [id]} */
static struct dwi_answer list_files(struct call *call)
{
    dw_text_add(&call->out, "{\"files\": ");
    dwi_store_list(call->ask->folder, call->faults, &call->out);
    dw_text_add(&call->out, ", \"samples\": [");
    add_samples(call);
    dw_text_add(&call->out, "]}\n");
    return dwi_call_give(call, 200);
}

/* {"id", "version", "text", "draft": text or null} */
static struct dwi_answer open_file(struct call *call)
{
    const char *id = dwi_call_argument(call, "id");
    if (id[0] == '\0')
        id = call->ask->first_job;
    if (!dwi_store_is_id(id))
        return wrong_id(call);
    size_t length = 0;
    const char *folder = call->ask->folder;
    const char *draft = dwi_store_has(folder, id, true, call->arena) ? dwi_store_read(folder, id, true, call->arena, call->faults, &length) : NULL;
    const char *text = draft != NULL && !dwi_store_has(folder, id, false, call->arena) ? "" : dwi_store_read(folder, id, false, call->arena, call->faults, &length);
    const char *version = dwi_store_version(folder, id, call->arena, call->faults);
    if (text == NULL)
        return dwi_call_faults(call, DW_IMPOSSIBLE);
    dwi_call_member(call, "{\"id\": ", id);
    dwi_call_member(call, ", \"version\": ", version);
    dwi_call_member(call, ", \"text\": ", text);
    if (draft != NULL)
        dwi_call_member(call, ", \"draft\": ", draft);
    dw_text_add(&call->out, "}\n");
    return dwi_call_give(call, 200);
}

static struct dwi_answer save_file(struct call *call)
{
    const char *id = dwi_call_argument(call, "id");
    if (!dwi_store_is_id(id))
        return wrong_id(call);
    const enum dw_status status =
        dwi_store_save(call->ask->folder, id, dwi_call_argument(call, "version"), call->ask->body, call->ask->body_length, call->arena, call->faults);
    if (status != DW_DONE)
        return dwi_call_faults(call, status);
    dwi_call_member(call, "{\"version\": ", dwi_store_version(call->ask->folder, id, call->arena, call->faults));
    dw_text_add(&call->out, "}\n");
    return dwi_call_give(call, 200);
}

static struct dwi_answer keep_draft(struct call *call)
{
    const char *id = dwi_call_argument(call, "id");
    if (!dwi_store_is_id(id))
        return wrong_id(call);
    return dwi_call_faults(call, dwi_store_draft(call->ask->folder, id, call->ask->body, call->ask->body_length, call->arena, call->faults));
}

/* ---- the job as it is sketched ------------------------------------------------------------------------------ */

/* Sizes and parts of the job in the body, as far as it can be reckoned: {"faults", "sizing"?, "parts"?}. */
static struct dwi_answer size_job(struct call *call)
{
    const struct dw_job *job = NULL;
    struct dw_run run = {0};
    if (dw_job_read_text(call->ask->body, call->ask->body_length, "job", call->ask->folder, NULL, call->arena, call->faults, &job) == DW_DONE)
        (void)dw_run_jobs(&job, 1, DW_STAGE_PARTS, NULL, NULL, call->arena, call->faults, &run);
    dw_text_add(&call->out, "{\"faults\": ");
    dw_json_faults(call->faults, &call->out);
    if (run.sizings != NULL && run.sizings[0] != NULL) {
        dw_text_add(&call->out, ", \"sizing\": ");
        (void)dw_json_sizing(run.sizings[0], &call->out);
    }
    if (run.parts != NULL && run.parts[0] != NULL) {
        dw_text_add(&call->out, ", \"parts\": ");
        (void)dw_json_parts(run.parts[0], &call->out);
    }
    dw_text_add(&call->out, "}\n");
    return dwi_call_give(call, 200);
}

/* ---- planning ------------------------------------------------------------------------------------------------ */

static struct dwi_answer start_plan(struct call *call)
{
    struct dwi_wish wish = {.id = dwi_call_argument(call, "id"), .text = call->ask->body, .length = call->ask->body_length, .patience = DW_SHORT, .follows = "", .only = ""};
    if (!dwi_store_is_id(wish.id))
        return wrong_id(call);
    (void)dw_patience_parse(dwi_call_argument(call, "patience"), &wish.patience);
    wish.use_rack = dwi_call_says_yes(call, "rack");
    wish.leeway = dwi_call_says_yes(call, "leeway");
    wish.whole = dwi_call_says_yes(call, "whole");
    wish.after = dwi_call_number(call, "after");
    const int64_t run = dwi_worker_start(call->ask->worker, &wish);
    dw_text_addf(&call->out, "{\"run\": %" PRId64 "}\n", run);
    return dwi_call_give(call, run == 0 ? 500 : 202);
}

static struct dwi_answer tell_plan(struct call *call)
{
    dwi_worker_tell(dwi_call_worker(call), dwi_call_number(call, "run"), dwi_call_number(call, "seen"), &call->out);
    return dwi_call_give(call, call->out.length == 0 ? 500 : 200);
}

static struct dwi_answer stop_plan(struct call *call)
{
    dwi_worker_stop(dwi_call_worker(call), dwi_call_number(call, "run"));
    dw_text_add(&call->out, "{}\n");
    return dwi_call_give(call, 200);
}

/* The packet as PDF: paper=letter|a4, labels=yes, sticks=yes. */
static struct dwi_answer give_packet(struct call *call)
{
    const struct dw_packet_options options = {
        .paper = strcmp(dwi_call_argument(call, "paper"), "a4") == 0 ? DW_A4 : DW_LETTER,
        .labels = dwi_call_says_yes(call, "labels"),
        .story_stick = dwi_call_says_yes(call, "sticks"),
    };
    size_t length = 0;
    const char *bytes = dwi_worker_packet(dwi_call_worker(call), dwi_call_number(call, "run"), &options, call->arena, call->faults, &length);
    if (bytes == NULL)
        return dwi_call_faults(call, call->faults->errors == 0 ? DW_IMPOSSIBLE : call->faults->status);
    return (struct dwi_answer){.status = 200, .type = "application/pdf", .bytes = bytes, .length = length};
}

static struct dwi_answer give_plan_file(struct call *call)
{
    size_t length = 0;
    const char *bytes = dwi_worker_plan(dwi_call_worker(call), dwi_call_number(call, "run"), call->arena, &length);
    if (bytes == NULL)
        return dwi_call_faults(call, DW_IMPOSSIBLE);
    return (struct dwi_answer){.status = 200, .type = "application/json", .bytes = bytes, .length = length};
}

/* ---- the table ------------------------------------------------------------------------------------------------- */

static const struct {
    const char *method, *path;
    struct dwi_answer (*answer)(struct call *call);
} routes[] = {
    {"GET", "/api/files", list_files},          {"GET", "/api/file", open_file},          {"POST", "/api/save", save_file},
    {"POST", "/api/draft", keep_draft},         {"POST", "/api/size", size_job},          {"POST", "/api/plan", start_plan},
    {"GET", "/api/plan", tell_plan},            {"POST", "/api/stop", stop_plan},         {"GET", "/api/packet", give_packet},
    {"GET", "/api/plan/file", give_plan_file},  {"GET", "/api/rack", dwi_rack_list},      {"POST", "/api/rack/add", dwi_rack_add},
    {"POST", "/api/rack/take", dwi_rack_take},  {"POST", "/api/rack/post", dwi_rack_post}, {"POST", "/api/rack/undo", dwi_rack_undo},
    {"GET", "/api/bench", dwi_bench_state},     {"POST", "/api/bench/enter", dwi_bench_enter}, {"POST", "/api/bench/file", dwi_bench_file},
    {"POST", "/api/bench/mark", dwi_bench_mark}, {"POST", "/api/bench/undo", dwi_bench_undo}, {"POST", "/api/bench/back", dwi_bench_back},
    {"GET", "/api/bench/look", dwi_bench_look}, {"POST", "/api/bench/plan", dwi_bench_plan},  {"POST", "/api/bench/measure", dwi_bench_measure},
    {"GET", "/api/bench/packet", dwi_bench_packet}, {"POST", "/api/bench/post", dwi_bench_post},
};

static struct dwi_answer plain(int status, const char *words)
{
    return (struct dwi_answer){.status = status, .type = "text/plain; charset=utf-8", .bytes = words, .length = strlen(words)};
}

static struct dwi_answer answer_api(const struct dwi_ask *ask, struct dw_arena *arena)
{
    bool known = false;
    for (size_t i = 0; i < sizeof routes / sizeof *routes; i++) {
        if (strcmp(routes[i].path, ask->path) != 0)
            continue;
        known = true;
        if (strcmp(routes[i].method, ask->method) != 0)
            continue;
        struct call call = {.ask = ask, .arena = arena, .faults = ask->faults, .out = dw_text_in(arena)};
        return routes[i].answer(&call);
    }
    return known ? plain(405, "not in this way\n") : plain(404, "no such place\n");
}

struct dwi_answer dwi_api(const struct dwi_ask *ask, struct dw_arena *arena)
{
    if (strncmp(ask->path, "/api/", 5) == 0)
        return answer_api(ask, arena);
    for (const struct dwi_asset *asset = dwi_assets; asset->path != NULL; asset++)
        if (strcmp(asset->path, ask->path) == 0)
            return strcmp(ask->method, "GET") == 0
                       ? (struct dwi_answer){.status = 200, .type = asset->type, .bytes = (const char *)asset->bytes, .length = asset->length}
                       : plain(405, "not in this way\n");
    return plain(404, "no such place\n");
}
