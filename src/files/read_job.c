/* read_job.c - from the text of a job to the struct: parse, fetch its shop, make the changes asked for, read by the tables. */
#include <drawerwright/files.h>

#include <string.h>

#include <drawerwright/address.h>
#include <drawerwright/keys.h>
#include <drawerwright/memory.h>

#include "change.h"
#include "csv_read.h"
#include "format.h"
#include "led_faults.h"
#include "tree.h"
#include "read_keys.h"

enum { FORMAT = 1 }; /* of job and shop files, the newest that is known */

struct job_call {
    struct dw_arena *arena;
    struct dw_faults *faults;
    const char *id;
    const char *folder;
    const char *path;        /* of the job's own file; "" when it is no file */
    struct dwi_tree *tree;
    bool shop_inside;        /* no shop file is named */
    const char *shop_path;   /* of a shop in a file of its own; NULL when it cannot be had */
    struct dwi_tree *shop;   /* its tree */
    const char *setting;     /* a change: "address=value" */
    const char *address;
    struct dwi_tree *value;
    struct dw_job *job;
};

static void out_of_memory(struct dw_faults *faults)
{
    dw_error(faults, DW_SURROUNDINGS, "out-of-memory", "", "memory ran out while the job was read");
}

/* ---- the shop in a file of its own ------------------------------------------------------------------------ */

/* Only a plain file name: the shop stands beside the job. */
static void shop_path_body(void *context)
{
    struct job_call *call = context;
    const struct dwi_tree *shop = dwi_tree_find(call->tree, "shop");
    call->shop_inside = shop == NULL || shop->kind != DWI_STRING;
    if (call->shop_inside)
        return;
    if (call->folder == NULL)
        dw_error(call->faults, DW_INPUT, "no-shop-file", "shop", "no file can be read here\nthe shop itself, as an object");
    else if (shop->text[0] == '\0' || shop->text[0] == '.' || strchr(shop->text, '/') != NULL)
        dw_error(call->faults, DW_INPUT, "no-shop-file", "shop", "\"%s\" is no plain file name\nthe name of a file beside the job", shop->text);
    else
        call->shop_path = strcmp(call->folder, ".") == 0 ? shop->text : dw_arena_format(call->arena, "%s/%s", call->folder, shop->text);
}

static void hang_in_shop_body(void *context)
{
    struct job_call *call = context;
    if (call->shop->kind == DWI_OBJECT && dwi_tree_find(call->shop, "units") == NULL)
        dw_error(call->faults, DW_INPUT, "missing", "shop.units", "%s does not say its units\n\"units\": \"in\" or \"mm\"", call->shop_path);
    (void)dwi_change(call->arena, call->faults, call->tree, "shop", call->shop);
}

static bool fetch_shop(struct job_call *call)
{
    if (!dw_arena_guard(call->arena, shop_path_body, call)) {
        out_of_memory(call->faults);
        return false;
    }
    if (call->shop_path == NULL)
        return call->shop_inside;
    size_t length = 0;
    const char *text = dw_file_read(call->shop_path, call->arena, call->faults, &length);
    call->shop = text == NULL ? NULL : dwi_tree_read(text, length, &dwi_job_limits, call->shop_path, call->arena, call->faults);
    if (call->shop == NULL || !dwi_format_is_known(call->shop, FORMAT, "shop", call->shop_path, call->faults))
        return false;
    if (dw_arena_guard(call->arena, hang_in_shop_body, call))
        return true;
    out_of_memory(call->faults);
    return false;
}

/* ---- changes ---------------------------------------------------------------------------------------------- */

static void change_body(void *context)
{
    struct job_call *call = context;
    (void)dwi_change(call->arena, call->faults, call->tree, call->address, call->value);
}

static void address_body(void *context)
{
    struct job_call *call = context;
    call->address = dw_arena_slice(call->arena, call->setting, strcspn(call->setting, "="));
}

static bool make_change(struct job_call *call, const char *setting)
{
    const char *equals = strchr(setting, '=');
    call->setting = setting;
    if (equals == NULL) {
        dw_error(call->faults, DW_INPUT, "no-value", setting, "a change needs a value\nan address and a value, such as shop.habits.kerf=3/32");
        return false;
    }
    call->value = dwi_change_value(equals + 1, call->arena, call->faults);
    if (call->value == NULL)
        return false;
    if (dw_arena_guard(call->arena, address_body, call) && dw_arena_guard(call->arena, change_body, call))
        return true;
    out_of_memory(call->faults);
    return false;
}

/* ---- reading ---------------------------------------------------------------------------------------------- */

static enum dw_unit unit_of(const struct dwi_tree *tree)
{
    const struct dwi_tree *units = dwi_tree_find(tree, "units");
    const bool metric = units != NULL && units->kind == DWI_STRING && strcmp(units->text, "mm") == 0;
    return metric ? DW_MILLIMETER : DW_IN;
}

static void read_body(void *context)
{
    struct job_call *call = context;
    const enum dw_unit unit = unit_of(call->tree);
    struct dw_job *job = dw_arena_alloc(call->arena, 1, sizeof *job);
    dw_object_clear(&dw_job_object, job);
    job->id = dw_arena_string(call->arena, call->id);
    job->unit = unit;
    job->shop.unit = unit;
    struct dwi_reading reading = {.arena = call->arena, .faults = call->faults, .job = job, .unit = unit};
    dwi_read_object(&reading, &dw_job_object, call->tree, job, "");
    if (dwi_tree_find(call->tree, "shop") == NULL)
        dw_error(call->faults, DW_INPUT, "missing", "shop", "it is missing\nthe shop, or the name of a file beside the job that holds it");
    call->job = job;
}

static bool read_tree(struct job_call *call, const struct dw_read_options *options)
{
    if (call->tree->kind != DWI_OBJECT) {
        dw_error(call->faults, DW_INPUT, "wrong-type", "", "%s stands here\na job, such as {\"units\": \"in\", ...}", dwi_tree_kind_words(call->tree));
        return false;
    }
    if (!dwi_format_is_known(call->tree, FORMAT, "job", "", call->faults))
        return false;
    const bool shop = fetch_shop(call);
    bool changed = true;
    for (size_t i = 0; options != NULL && i < options->setting_count; i++)
        changed = make_change(call, options->settings[i]) && changed;
    if (!shop || !changed) /* without its shop every name in the job would look wrong */
        return false;
    if (dw_arena_guard(call->arena, read_body, call))
        return true;
    out_of_memory(call->faults);
    return false;
}

/* Reads the tree; the places of the faults of one of several jobs are led by its file. */
static bool read_led_tree(struct job_call *call, const struct dw_read_options *options)
{
    if (options == NULL || !options->one_of_several)
        return read_tree(call, options);
    struct dw_faults *all = call->faults;
    struct dw_faults *own = dw_faults_new();
    if (own == NULL) {
        out_of_memory(all);
        return false;
    }
    call->faults = own;
    const bool read = read_tree(call, options);
    call->faults = all;
    dwi_faults_append_led(all, own, call->path, call->arena);
    dw_faults_free(own);
    return read;
}

/* The job of a text, or of a tree that stands for one. */
static enum dw_status read_job(struct job_call *call, const struct dw_read_options *options, const char *bytes, size_t length, const struct dw_job **job)
{
    const struct dw_faults *faults = call->faults;
    const size_t before = faults->errors;
    if (call->tree == NULL)
        call->tree = dwi_tree_read(bytes, length, &dwi_job_limits, call->path, call->arena, call->faults);
    if (call->tree != NULL && read_led_tree(call, options) && faults->errors == before)
        *job = call->job;
    return faults->errors > before ? faults->status : DW_DONE;
}

enum dw_status dw_job_read_text(const char *bytes, size_t length, const char *id, const char *folder, const struct dw_read_options *options,
                                struct dw_arena *arena, struct dw_faults *faults, const struct dw_job **job)
{
    struct job_call call = {.arena = arena, .faults = faults, .id = id, .folder = folder, .path = ""};
    *job = NULL;
    return read_job(&call, options, bytes, length, job);
}

/* ---- from a bare list of parts ----------------------------------------------------------------------------- */

struct csv_call {
    struct dw_arena *arena;
    struct dw_faults *faults;
    const char *path;
    const char *bytes;
    size_t length;
    struct dwi_tree *shop;
    struct dwi_tree *tree;
};

/* The job that the list stands for: {"units": the shop's, "shop": ..., "parts": [...]}. */
static void csv_body(void *context)
{
    struct csv_call *call = context;
    struct dwi_tree *parts = dwi_csv_parts(call->bytes, call->length, call->path, call->arena, call->faults);
    if (parts == NULL)
        return;
    struct dwi_tree *tree = dw_arena_alloc(call->arena, 1, sizeof *tree);
    tree->kind = DWI_OBJECT;
    const struct dwi_tree *units = call->shop->kind == DWI_OBJECT ? dwi_tree_find(call->shop, "units") : NULL;
    if (units != NULL) {
        struct dwi_tree *copy = dw_arena_copy(call->arena, units, 1, sizeof *units);
        (void)dwi_change(call->arena, call->faults, tree, "units", copy);
    }
    (void)dwi_change(call->arena, call->faults, tree, "shop", call->shop);
    (void)dwi_change(call->arena, call->faults, tree, "parts", parts);
    call->tree = tree;
}

static enum dw_status read_csv(struct job_call *call, const char *bytes, size_t length, const struct dw_read_options *options, const struct dw_job **job)
{
    struct dw_arena *arena = call->arena;
    struct dw_faults *faults = call->faults;
    struct csv_call csv = {.arena = arena, .faults = faults, .path = call->path, .bytes = bytes, .length = length};
    if (options == NULL || options->shop == NULL) {
        dw_error(faults, DW_INPUT, "no-shop", call->path, "a bare list of parts says nothing of materials\na shop file beside it: --shop SHOP.json");
        return DW_INPUT;
    }
    size_t shop_length = 0;
    const char *shop = dw_file_read(options->shop, arena, faults, &shop_length);
    csv.shop = shop == NULL ? NULL : dwi_tree_read(shop, shop_length, &dwi_job_limits, options->shop, arena, faults);
    if (csv.shop == NULL || !dwi_format_is_known(csv.shop, FORMAT, "shop", options->shop, faults))
        return faults->status;
    if (!dw_arena_guard(arena, csv_body, &csv))
        out_of_memory(faults);
    call->tree = csv.tree;
    return csv.tree == NULL ? faults->status : read_job(call, options, bytes, length, job);
}

/* ---- from a file ------------------------------------------------------------------------------------------ */

struct path_parts {
    struct dw_arena *arena;
    const char *path;
    const char *folder, *id;
};

/* "jobs/chest.json" is the job "chest" in the folder "jobs". */
static void split_path_body(void *context)
{
    struct path_parts *parts = context;
    const char *slash = strrchr(parts->path, '/');
    const char *name = slash == NULL ? parts->path : slash + 1;
    const char *dot = strrchr(name, '.');
    const size_t length = dot == NULL || dot == name ? strlen(name) : (size_t)(dot - name);
    parts->id = dw_arena_slice(parts->arena, name, length);
    parts->folder = slash == NULL ? "." : slash == parts->path ? "/" : dw_arena_slice(parts->arena, parts->path, (size_t)(slash - parts->path));
}

static bool is_csv(const char *path)
{
    const size_t length = strlen(path);
    return length > 4 && (strcmp(path + length - 4, ".csv") == 0 || strcmp(path + length - 4, ".CSV") == 0);
}

enum dw_status dw_job_read_file(const char *path, const struct dw_read_options *options, struct dw_arena *arena, struct dw_faults *faults,
                                const struct dw_job **job)
{
    struct path_parts parts = {.arena = arena, .path = path};
    size_t length = 0;
    *job = NULL;
    if (!dw_arena_guard(arena, split_path_body, &parts)) {
        out_of_memory(faults);
        return DW_SURROUNDINGS;
    }
    const char *bytes = dw_file_read(path, arena, faults, &length);
    if (bytes == NULL)
        return faults->status;
    struct job_call call = {.arena = arena, .faults = faults, .id = parts.id, .folder = is_csv(path) ? NULL : parts.folder, .path = path};
    return is_csv(path) ? read_csv(&call, bytes, length, options, job) : read_job(&call, options, bytes, length, job);
}
