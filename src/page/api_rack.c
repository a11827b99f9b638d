/* api_rack.c - what the page may ask of the rack: see it, add, take, enter a plan, undo one. */
#include "call.h"

#include <inttypes.h>
#include <string.h>

#include <drawerwright/files.h>
#include <drawerwright/memory.h>
#include <drawerwright/rack.h>
#include <drawerwright/run.h>

static void add_length(struct call *call, const char *lead, dw_length length)
{
    dwi_call_member(call, lead, dw_length_show(call->arena, length, (struct dw_length_style){.unit = dwi_call_unit(call), .decimals = -1}));
}

static void add_offcut(struct call *call, const struct dw_offcut *offcut)
{
    dwi_call_member(call, "{\"id\": ", offcut->id);
    dwi_call_member(call, ", \"material\": ", offcut->material);
    add_length(call, ", \"length\": ", offcut->length);
    add_length(call, ", \"width\": ", offcut->width);
    dwi_call_member(call, ", \"worth\": ", dw_money_show(call->arena, offcut->value, 2));
    dwi_call_member(call, ", \"origin\": ", offcut->origin);
    dw_text_addf(&call->out, ", \"grain_across\": %s}", offcut->grain_across ? "true" : "false");
}

static void add_movement(struct call *call, const struct dw_movement *movement)
{
    dwi_call_member(call, "{\"when\": ", movement->when);
    dwi_call_member(call, ", \"what\": ", movement->what);
    dwi_call_member(call, ", \"offcut\": ", movement->offcut);
    dwi_call_member(call, ", \"plan\": ", movement->plan);
    dwi_call_member(call, ", \"note\": ", movement->note);
    dw_text_add_char(&call->out, '}');
}

static enum dw_status list(struct dwi_use *use)
{
    struct call *call = use->call;
    struct dw_offcuts offcuts = {.count = 0};
    struct dw_movements history = {.count = 0};
    enum dw_status status = dw_rack_list(use->rack, NULL, call->arena, call->faults, &offcuts);
    if (status == DW_DONE)
        status = dw_rack_history(use->rack, call->arena, call->faults, &history);
    dw_text_add(&call->out, "{\"offcuts\": [");
    for (size_t i = 0; i < offcuts.count; i++) {
        dw_text_add(&call->out, i == 0 ? "" : ", ");
        add_offcut(call, &offcuts.at[i]);
    }
    dw_text_add(&call->out, "], \"history\": [");
    for (size_t i = 0; i < history.count; i++) {
        dw_text_add(&call->out, i == 0 ? "" : ", ");
        add_movement(call, &history.at[i]);
    }
    dw_text_add(&call->out, "]}\n");
    return status;
}

/* {"offcuts": [...], "history": [...]}; lengths shown in the units asked for. */
struct dwi_answer dwi_rack_list(struct call *call)
{
    return dwi_call_with_rack(call, list);
}

static void read_size(struct call *call, const char *key, dw_length *length)
{
    const char *why = "";
    if (!dw_length_parse(dwi_call_argument(call, key), dwi_call_unit(call), length, &why) || *length <= 0)
        dw_error(call->faults, DW_INPUT, "bad-length", key, "this is no size\n%s", why);
}

static enum dw_status add(struct dwi_use *use)
{
    struct call *call = use->call;
    const char *note = dwi_call_argument(call, "note");
    struct dw_offcut offcut = {.material = dwi_call_argument(call, "material"),
                               .origin = note[0] == '\0' ? "by hand" : note,
                               .grain_across = strcmp(dwi_call_argument(call, "grain_across"), "yes") == 0};
    const char *worth = dwi_call_argument(call, "worth");
    const char *why = "";
    read_size(call, "length", &offcut.length);
    read_size(call, "width", &offcut.width);
    if (worth[0] != '\0' && !dw_money_parse(worth, 2, &offcut.value, &why))
        dw_error(call->faults, DW_INPUT, "bad-amount", "worth", "this is no amount\n%s", why);
    if (offcut.material[0] == '\0' || !dw_utf8_is_clean(offcut.material, strlen(offcut.material)))
        dw_error(call->faults, DW_INPUT, "bad-material", "material", "an offcut is of some material\nname one of the shop");
    if (!dw_utf8_is_clean(note, strlen(note)))
        dw_error(call->faults, DW_INPUT, "bad-note", "note", "these words hold what cannot be shown");
    int64_t number = 0;
    return call->faults->errors != 0 ? DW_INPUT : dw_rack_add(use->rack, &offcut, call->faults, &number);
}

struct dwi_answer dwi_rack_add(struct call *call)
{
    return dwi_call_with_rack(call, add);
}

static enum dw_status take(struct dwi_use *use)
{
    const char *note = dwi_call_argument(use->call, "note");
    if (!dw_utf8_is_clean(note, strlen(note))) {
        dw_error(use->call->faults, DW_INPUT, "bad-note", "note", "these words hold what cannot be shown");
        return DW_INPUT;
    }
    return dw_rack_take(use->rack, dwi_call_argument(use->call, "id"), note, use->call->faults);
}

struct dwi_answer dwi_rack_take(struct call *call)
{
    return dwi_call_with_rack(call, take);
}

/* A finished run's plan goes the way that its file would go. */
static enum dw_status post(struct dwi_use *use)
{
    struct call *call = use->call;
    const struct dw_plan *plan = NULL;
    struct dw_posting posting;
    size_t length = 0;
    const char *bytes = dwi_worker_plan(dwi_call_worker(call), dwi_call_number(call, "run"), call->arena, &length);
    if (bytes == NULL) {
        dw_error(call->faults, DW_IMPOSSIBLE, "no-plan", "run", "this plan is no longer at hand\nwait until the sheets are laid out again");
        return DW_IMPOSSIBLE;
    }
    enum dw_status status = dw_plan_read_text(bytes, length, call->arena, call->faults, &plan);
    if (status == DW_DONE)
        status = dw_run_posting_known(use->rack, plan, call->arena, call->faults, &posting);
    if (status == DW_DONE)
        status = dw_rack_post(use->rack, &posting, call->faults);
    return status;
}

struct dwi_answer dwi_rack_post(struct call *call)
{
    return dwi_call_with_rack(call, post);
}

static enum dw_status undo(struct dwi_use *use)
{
    return dw_rack_undo(use->rack, dwi_call_argument(use->call, "plan"), use->call->faults);
}

struct dwi_answer dwi_rack_undo(struct call *call)
{
    return dwi_call_with_rack(call, undo);
}
