/* api.c - the table of what the page may ask, and its answers. Sizing is done at once (milliseconds); planning goes to the worker. */
#include "api.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include <drawerwright/drawing.h>
#include <drawerwright/files.h>
#include <drawerwright/memory.h>
#include <drawerwright/rack.h>
#include <drawerwright/run.h>

#include "assets.h"
#include "store.h"

enum { SKETCH_WIDTH = 72000, SKETCH_HEIGHT = 60000 };

static const char JSON[] = "application/json";

/* One call being answered. */
struct call {
    const struct dwi_ask *ask;
    struct dw_arena *arena;
    struct dw_faults *faults;
    struct dw_text out;
};

static const char *argument(const struct call *call, const char *key)
{
    const char *value = call->ask->argument(call->ask->context, key);
    return value == NULL ? "" : value;
}

static int http_of(enum dw_status status)
{
    switch (status) {
    case DW_DONE:
        return 200;
    case DW_IMPOSSIBLE:
        return 409;
    case DW_INPUT:
        return 422;
    case DW_SURROUNDINGS:
    case DW_PROGRAM:
        break;
    }
    return 500;
}

static struct dwi_answer give(const struct call *call, int status)
{
    return (struct dwi_answer){.status = status, .type = JSON, .bytes = call->out.bytes, .length = call->out.length};
}

/* {"faults": [...]} with the HTTP status of the gravest. */
static struct dwi_answer give_faults(struct call *call, enum dw_status status)
{
    dw_text_add(&call->out, "{\"faults\": ");
    dw_json_faults(call->faults, &call->out);
    dw_text_add(&call->out, "}\n");
    return give(call, http_of(status));
}

static struct dwi_answer wrong_id(struct call *call)
{
    dw_error(call->faults, DW_INPUT, "bad-id", "id", "this is no name for a job\nuse letters, digits, spaces, - and _");
    return give_faults(call, DW_INPUT);
}

/* ---- files ------------------------------------------------------------------------------------------------- */

static struct dwi_answer list_files(struct call *call)
{
    dwi_store_list(call->ask->folder, &call->out);
    return give(call, 200);
}

static void add_member(struct call *call, const char *lead, const char *text)
{
    dw_text_add(&call->out, lead);
    dw_json_quote(text, &call->out);
}

/* {"id", "version", "text", "draft": text or null} */
static struct dwi_answer open_file(struct call *call)
{
    const char *id = argument(call, "id");
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
        return give_faults(call, DW_IMPOSSIBLE);
    add_member(call, "{\"id\": ", id);
    add_member(call, ", \"version\": ", version);
    add_member(call, ", \"text\": ", text);
    if (draft != NULL)
        add_member(call, ", \"draft\": ", draft);
    dw_text_add(&call->out, "}\n");
    return give(call, 200);
}

static struct dwi_answer save_file(struct call *call)
{
    const char *id = argument(call, "id");
    if (!dwi_store_is_id(id))
        return wrong_id(call);
    const enum dw_status status =
        dwi_store_save(call->ask->folder, id, argument(call, "version"), call->ask->body, call->ask->body_length, call->arena, call->faults);
    if (status != DW_DONE)
        return give_faults(call, status);
    add_member(call, "{\"version\": ", dwi_store_version(call->ask->folder, id, call->arena, call->faults));
    dw_text_add(&call->out, "}\n");
    return give(call, 200);
}

static struct dwi_answer keep_draft(struct call *call)
{
    const char *id = argument(call, "id");
    if (!dwi_store_is_id(id))
        return wrong_id(call);
    return give_faults(call, dwi_store_draft(call->ask->folder, id, call->ask->body, call->ask->body_length, call->arena, call->faults));
}

/* ---- the job as it is sketched ------------------------------------------------------------------------------ */

/* Changes one value of the job in the body by its address: {"text": the whole job}. */
static struct dwi_answer set_value(struct call *call)
{
    struct dw_text text = dw_text_in(call->arena);
    const char *value = call->ask->argument(call->ask->context, "value");
    const enum dw_status status = dw_job_set(call->ask->body, call->ask->body_length, argument(call, "address"), value, &text, call->faults);
    if (status != DW_DONE)
        return give_faults(call, status);
    add_member(call, "{\"text\": ", text.bytes);
    dw_text_add(&call->out, "}\n");
    return give(call, 200);
}

static void add_sketches(struct call *call, const struct dw_sizing *sizing)
{
    dw_text_add(&call->out, ", \"sketches\": [");
    for (size_t c = 0; c < sizing->case_count; c++) {
        struct dw_scene scene;
        const char *bytes = "";
        size_t length = 0;
        if (dw_draw_case(sizing, c, SKETCH_WIDTH, SKETCH_HEIGHT, call->arena, call->faults, &scene) == DW_DONE)
            (void)dw_scene_svg(&scene, call->arena, call->faults, &bytes, &length);
        dw_text_add(&call->out, c == 0 ? "" : ", ");
        dw_json_quote(bytes, &call->out);
    }
    dw_text_add_char(&call->out, ']');
}

/* Sizes, parts and sketches of the job in the body, as far as it can be reckoned: {"faults", "sizing"?, "parts"?, "sketches"?}. */
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
        add_sketches(call, run.sizings[0]);
    }
    if (run.parts != NULL && run.parts[0] != NULL) {
        dw_text_add(&call->out, ", \"parts\": ");
        (void)dw_json_parts(run.parts[0], &call->out);
    }
    dw_text_add(&call->out, "}\n");
    return give(call, 200);
}

/* ---- planning ------------------------------------------------------------------------------------------------ */

static struct dwi_answer start_plan(struct call *call)
{
    enum dw_patience patience = DW_SHORT;
    (void)dw_patience_parse(argument(call, "patience"), &patience);
    const int64_t run =
        dwi_worker_start(call->ask->worker, call->ask->body, call->ask->body_length, patience, strcmp(argument(call, "rack"), "yes") == 0);
    dw_text_addf(&call->out, "{\"run\": %" PRId64 "}\n", run);
    return give(call, run == 0 ? 500 : 202);
}

static int64_t run_of(const struct call *call)
{
    return strtoll(argument(call, "run"), NULL, 10);
}

static struct dwi_answer tell_plan(struct call *call)
{
    dwi_worker_tell(call->ask->worker, run_of(call), &call->out);
    return give(call, call->out.length == 0 ? 500 : 200);
}

static struct dwi_answer stop_plan(struct call *call)
{
    dwi_worker_stop(call->ask->worker, run_of(call));
    dw_text_add(&call->out, "{}\n");
    return give(call, 200);
}

static struct dwi_answer give_packet(struct call *call)
{
    size_t length = 0;
    const char *bytes = dwi_worker_packet(call->ask->worker, run_of(call), call->arena, &length);
    if (bytes == NULL)
        return give_faults(call, DW_IMPOSSIBLE);
    return (struct dwi_answer){.status = 200, .type = "application/pdf", .bytes = bytes, .length = length};
}

/* ---- the rack -------------------------------------------------------------------------------------------------- */

static enum dw_status open_rack(struct call *call, struct dw_rack **rack)
{
    return dw_rack_open(dw_arena_format(call->arena, "%s/rack.db", call->ask->folder), call->faults, rack);
}

struct rack_listing {
    struct call *call;
    struct dw_rack *rack;
    enum dw_status status;
};

static void list_rack_body(void *context)
{
    struct rack_listing *listing = context;
    struct call *call = listing->call;
    struct dw_offcuts offcuts;
    listing->status = dw_rack_list(listing->rack, NULL, call->arena, call->faults, &offcuts);
    dw_text_add(&call->out, "{\"offcuts\": [");
    for (size_t i = 0; i < offcuts.count; i++) {
        const struct dw_offcut *offcut = &offcuts.at[i];
        add_member(call, i == 0 ? "{\"id\": " : ", {\"id\": ", offcut->id);
        add_member(call, ", \"material\": ", offcut->material);
        add_member(call, ", \"origin\": ", offcut->origin);
        dw_text_addf(&call->out, ", \"length\": %" PRId64 ", \"width\": %" PRId64 ", \"value\": %" PRId64 ", \"grain_across\": %s}", offcut->length,
                     offcut->width, offcut->value, offcut->grain_across ? "true" : "false");
    }
    dw_text_add(&call->out, "]}\n");
}

/* The rack is held across allocations here, so the listing runs in a guard of its own and the rack is closed in any case. */
static struct dwi_answer list_rack(struct call *call)
{
    struct rack_listing listing = {.call = call};
    enum dw_status status = open_rack(call, &listing.rack);
    if (status == DW_DONE)
        status = dw_arena_guard(call->arena, list_rack_body, &listing) ? listing.status : DW_SURROUNDINGS;
    dw_rack_close(listing.rack);
    if (status == DW_DONE)
        return give(call, 200);
    call->out.length = 0;
    return give_faults(call, status);
}

static struct dwi_answer add_to_rack(struct call *call)
{
    const enum dw_unit unit = strcmp(argument(call, "units"), "mm") == 0 ? DW_MILLIMETER : DW_IN;
    struct dw_offcut offcut = {.material = argument(call, "material"), .origin = argument(call, "note")};
    const char *why = "";
    if (!dw_length_parse(argument(call, "length"), unit, &offcut.length, &why) || offcut.length <= 0)
        dw_error(call->faults, DW_INPUT, "bad-length", "length", "this is no size\n%s", why);
    if (!dw_length_parse(argument(call, "width"), unit, &offcut.width, &why) || offcut.width <= 0)
        dw_error(call->faults, DW_INPUT, "bad-length", "width", "this is no size\n%s", why);
    if (argument(call, "worth")[0] != '\0' && !dw_money_parse(argument(call, "worth"), 2, &offcut.value, &why))
        dw_error(call->faults, DW_INPUT, "bad-amount", "worth", "this is no amount\n%s", why);
    if (call->faults->errors != 0)
        return give_faults(call, DW_INPUT);
    struct dw_rack *rack = NULL;
    int64_t number = 0;
    enum dw_status status = open_rack(call, &rack);
    if (status == DW_DONE)
        status = dw_rack_add(rack, &offcut, call->faults, &number);
    dw_rack_close(rack);
    return give_faults(call, status);
}

static struct dwi_answer take_from_rack(struct call *call)
{
    struct dw_rack *rack = NULL;
    enum dw_status status = open_rack(call, &rack);
    if (status == DW_DONE)
        status = dw_rack_take(rack, argument(call, "id"), argument(call, "note"), call->faults);
    dw_rack_close(rack);
    return give_faults(call, status);
}

static struct dwi_answer undo_in_rack(struct call *call)
{
    struct dw_rack *rack = NULL;
    enum dw_status status = open_rack(call, &rack);
    if (status == DW_DONE)
        status = dw_rack_undo(rack, argument(call, "plan"), call->faults);
    dw_rack_close(rack);
    return give_faults(call, status);
}

/* ---- the table ------------------------------------------------------------------------------------------------- */

static const struct {
    const char *method, *path;
    struct dwi_answer (*answer)(struct call *call);
} routes[] = {
    {"GET", "/api/files", list_files},     {"GET", "/api/file", open_file},        {"POST", "/api/save", save_file},
    {"POST", "/api/draft", keep_draft},    {"POST", "/api/set", set_value},        {"POST", "/api/size", size_job},
    {"POST", "/api/plan", start_plan},     {"GET", "/api/plan", tell_plan},        {"POST", "/api/stop", stop_plan},
    {"GET", "/api/packet", give_packet},   {"GET", "/api/rack", list_rack},        {"POST", "/api/rack/add", add_to_rack},
    {"POST", "/api/rack/take", take_from_rack}, {"POST", "/api/rack/undo", undo_in_rack},
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
