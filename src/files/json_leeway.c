/* json_leeway.c - what sizes gave, and what they would have to give, as JSON. */
#include "json_leeway.h"

#include <drawerwright/leeway.h>

#include "amounts_show.h"

/* A length, or a word, as a job file has it; NULL for the number 0. */
static const char *value_of(struct dwi_json *json, const struct dw_job *job, const struct dw_leeway_edit *edit)
{
    switch (edit->kind) {
        case DW_EDIT_LENGTH:
            return dwi_length_exact(json->out->arena, edit->length, job->unit);
        case DW_EDIT_OVERLAY:
            return "overlay";
        case DW_EDIT_LIPPED:
            return "lipped";
        case DW_EDIT_NONE:
            break;
    }
    return NULL;
}

/* Values as a job file has them. */
static void write_edits(struct dwi_json *json, const char *key, const struct dw_purchase *purchase, const struct dw_leeway_edit *edits, size_t count)
{
    dwi_json_array(json, key);
    for (size_t i = 0; i < count; i++) {
        const struct dw_job *job = purchase->layouts->jobs[edits[i].job]->sizing->job;
        const char *value = value_of(json, job, &edits[i]);
        dwi_json_flat_object(json, NULL);
        if (purchase->layouts->job_count > 1)
            dwi_json_string(json, "job", job->id);
        dwi_json_string(json, "address", edits[i].address);
        if (value == NULL)
            dwi_json_integer(json, "value", 0);
        else
            dwi_json_string(json, "value", value);
        dwi_json_end_object(json);
    }
    dwi_json_end_array(json);
}

static void write_given(struct dwi_json *json, const char *job, const char *address, const char *value)
{
    dwi_json_flat_object(json, NULL);
    dwi_json_string(json, "job", job);
    dwi_json_string(json, "address", address);
    dwi_json_string(json, "value", value);
    dwi_json_end_object(json);
}

void dwi_json_given(struct dwi_json *json, const struct dw_purchase *purchase)
{
    const struct dw_leeway *leeway = purchase->leeway;
    dwi_json_array(json, "given");
    for (size_t i = 0; i < purchase->given_count; i++)
        write_given(json, purchase->given[i].job, purchase->given[i].address, purchase->given[i].value);
    for (size_t c = 0; leeway != NULL && c < leeway->change_count; c++)
        for (size_t i = 0; i < leeway->changes[c].take_count; i++) {
            const struct dw_leeway_edit *edit = &leeway->changes[c].take[i];
            const struct dw_job *job = purchase->layouts->jobs[edit->job]->sizing->job;
            const char *value = value_of(json, job, edit);
            write_given(json, job->id, edit->address, value == NULL ? "0" : value);
        }
    dwi_json_end_array(json);
}

static void write_changes(struct dwi_json *json, const struct dw_purchase *purchase, const struct dw_leeway *leeway)
{
    dwi_json_array(json, "changes");
    for (size_t i = 0; i < leeway->change_count; i++) {
        const struct dw_leeway_change *change = &leeway->changes[i];
        dwi_json_object(json, NULL);
        dwi_json_string(json, "what", change->what);
        dwi_json_string(json, "drawers", change->drawers);
        dwi_json_integer(json, "count", (int64_t)change->count);
        dwi_json_integer(json, "from", change->from);
        dwi_json_integer(json, "to", change->to);
        dwi_json_integer(json, "saved", change->saved);
        dwi_json_integer(json, "slides", change->slides);
        dwi_json_flat_array(json, "paths");
        for (size_t p = 0; p < change->path_count; p++)
            dwi_json_string(json, NULL, change->paths[p]);
        dwi_json_end_array(json);
        dwi_json_string(json, "show", change->words);
        write_edits(json, "take", purchase, change->take, change->take_count);
        write_edits(json, "refuse", purchase, change->refuse, change->refuse_count);
        dwi_json_end_object(json);
    }
    dwi_json_end_array(json);
}

static void write_alone(struct dwi_json *json, const struct dw_purchase *purchase, const struct dw_leeway *leeway)
{
    const struct dw_layouts *layouts = purchase->layouts;
    dwi_json_array(json, "alone");
    for (size_t i = 0; i < leeway->alone_count; i++) {
        const struct dw_leeway_alone *alone = &leeway->alone[i];
        const struct dw_part *part = &layouts->jobs[alone->piece.job]->at[alone->piece.part];
        const size_t material = layouts->materials[alone->material].problem->material;
        dwi_json_flat_object(json, NULL);
        dwi_json_string(json, "material", dw_material_id(layouts->jobs[0]->sizing->job, material));
        dwi_json_string(json, "piece", part->pieces[alone->piece.piece].mark);
        dwi_json_integer(json, "saved", alone->saved);
        dwi_json_string(json, "show", alone->words);
        dwi_json_end_object(json);
    }
    dwi_json_end_array(json);
}

static void write_leeway(struct dwi_json *json, const char *key, const struct dw_purchase *purchase, const struct dw_leeway *leeway)
{
    if (leeway == NULL) {
        dwi_json_null(json, key);
        return;
    }
    dwi_json_object(json, key);
    write_changes(json, purchase, leeway);
    if (leeway == purchase->near)
        write_alone(json, purchase, leeway);
    dwi_json_integer(json, "sheets_before", leeway->sheets_before);
    dwi_json_integer(json, "sheets_after", leeway->sheets_after);
    dwi_json_integer(json, "before", leeway->before);
    dwi_json_integer(json, "slides", leeway->slides);
    dwi_json_integer(json, "saved", leeway->saved);
    dwi_json_integer(json, "lower_bound", leeway->lower_bound);
    dwi_json_bool(json, "certain", leeway->certain);
    dwi_json_string(json, "sheets", leeway->sheets);
    dwi_json_string(json, "show", leeway->words);
    dwi_json_end_object(json);
}

void dwi_json_leeway_keys(struct dwi_json *json, const struct dw_purchase *purchase)
{
    write_leeway(json, "leeway", purchase, purchase->leeway);
    write_leeway(json, "near", purchase, purchase->near);
}
