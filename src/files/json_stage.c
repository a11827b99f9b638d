/* json_stage.c - JSON of the stages: sizes with their figuring, parts, layouts, purchase. Lengths are integers of 1/16 micrometer with what a
 * maker reads beside them. */
#include "json_stage.h"

#include <drawerwright/files.h>
#include <drawerwright/memory.h>

#include "json_leeway.h"

void dwi_json_fault(struct dwi_json *json, const struct dw_fault *fault)
{
    dwi_json_flat_object(json, NULL);
    dwi_json_string(json, "grade", dw_grade_word(fault->grade));
    dwi_json_string(json, "code", fault->code);
    dwi_json_string(json, "address", fault->address);
    dwi_json_string(json, "wrong", fault->wrong);
    dwi_json_string(json, "cure", fault->cure);
    dwi_json_end_object(json);
}

void dw_json_faults(const struct dw_faults *faults, struct dw_text *out)
{
    struct dwi_json json = dwi_json_to(out);
    dwi_json_array(&json, NULL);
    for (size_t i = 0; i < faults->count; i++)
        dwi_json_fault(&json, &faults->at[i]);
    dwi_json_end_array(&json);
}

static const char *show(const struct dwi_json *json, const struct dw_job *job, dw_length length)
{
    return dw_length_show(json->out->arena, length, (struct dw_length_style){.unit = job->unit, .decimals = -1});
}

static void write_step(struct dwi_json *json, const struct dw_job *job, const struct dw_step *step)
{
    static const char *const operations[] = {[DW_START] = "start", [DW_ADD] = "add",         [DW_SUBTRACT] = "subtract", [DW_TIMES] = "times",
                                             [DW_DOWN_TO] = "down to", [DW_UP_TO] = "up to", [DW_AT_MOST] = "at most",   [DW_AT_LEAST] = "at least"};
    dwi_json_flat_object(json, NULL);
    dwi_json_string(json, "words", step->words);
    dwi_json_string(json, "operation", operations[step->operation]);
    if (step->operation == DW_TIMES) {
        dwi_json_integer(json, "numerator", step->numerator);
        dwi_json_integer(json, "denominator", step->denominator);
    } else {
        dwi_json_integer(json, "amount", step->amount);
    }
    dwi_json_integer(json, "after", step->after);
    dwi_json_string(json, "show", show(json, job, step->after));
    dwi_json_end_object(json);
}

static void write_figure(struct dwi_json *json, const struct dw_job *job, const char *key, const struct dw_figure *figure, bool figuring)
{
    if (figure->step_count == 0)
        return;
    if (figuring)
        dwi_json_object(json, key);
    else
        dwi_json_flat_object(json, key);
    dwi_json_integer(json, "value", figure->value);
    dwi_json_string(json, "show", show(json, job, figure->value));
    if (figuring) {
        dwi_json_array(json, "figuring");
        for (size_t i = 0; i < figure->step_count; i++)
            write_step(json, job, &figure->steps[i]);
        dwi_json_end_array(json);
    }
    dwi_json_end_object(json);
}

static void write_rectangle(struct dwi_json *json, const char *key, const struct dw_rectangle *rectangle)
{
    dwi_json_flat_object(json, key);
    dwi_json_integer(json, "x", rectangle->x);
    dwi_json_integer(json, "y", rectangle->y);
    dwi_json_integer(json, "width", rectangle->width);
    dwi_json_integer(json, "height", rectangle->height);
    dwi_json_end_object(json);
}

static void write_drawer(struct dwi_json *json, const struct dw_job *job, const struct dw_sized_drawer *drawer, bool figuring)
{
    dwi_json_object(json, NULL);
    dwi_json_string(json, "path", drawer->path);
    dwi_json_string(json, "address", drawer->address);
    write_rectangle(json, "front", &drawer->front);
    write_rectangle(json, "space", &drawer->space);
    if (drawer->box_width.step_count != 0)
        write_rectangle(json, "box", &drawer->box);
    write_figure(json, job, "front_height", &drawer->front_height, figuring);
    write_figure(json, job, "front_width", &drawer->front_width, figuring);
    write_figure(json, job, "box_height", &drawer->box_height, figuring);
    write_figure(json, job, "box_width", &drawer->box_width, figuring);
    write_figure(json, job, "box_depth", &drawer->box_depth, figuring);
    write_figure(json, job, "inside_height", &drawer->inside_height, figuring);
    write_figure(json, job, "inside_width", &drawer->inside_width, figuring);
    write_figure(json, job, "inside_depth", &drawer->inside_depth, figuring);
    write_figure(json, job, "slide_length", &drawer->slide_length, figuring);
    write_figure(json, job, "slide_center", &drawer->slide_center, figuring);
    write_figure(json, job, "set_back", &drawer->set_back, figuring);
    write_figure(json, job, "cover_top", &drawer->overlay[DW_TOP], figuring);
    write_figure(json, job, "cover_bottom", &drawer->overlay[DW_BOTTOM], figuring);
    write_figure(json, job, "cover_left", &drawer->overlay[DW_LEFT], figuring);
    write_figure(json, job, "cover_right", &drawer->overlay[DW_RIGHT], figuring);
    dwi_json_end_object(json);
}

void dwi_json_drawers(struct dwi_json *json, const struct dw_sizing *sizing, bool figuring)
{
    for (size_t c = 0; c < sizing->case_count; c++)
        for (size_t b = 0; b < sizing->cases[c].bank_count; b++)
            for (size_t d = 0; d < sizing->cases[c].banks[b].drawer_count; d++)
                write_drawer(json, sizing->job, &sizing->cases[c].banks[b].drawers[d], figuring);
}

static void write_bank(struct dwi_json *json, const struct dw_job *job, const struct dw_sized_bank *bank)
{
    dwi_json_object(json, NULL);
    dwi_json_string(json, "path", bank->path);
    dwi_json_string(json, "address", bank->address);
    write_rectangle(json, "opening", &bank->opening);
    write_figure(json, job, "gap", &bank->gap, true);
    dwi_json_string(json, "freed", bank->freed == NULL ? "" : bank->freed);
    dwi_json_array(json, "rails");
    for (size_t i = 0; i < bank->rail_count; i++)
        if (bank->rails[i].kind != DW_RAIL_NONE)
            write_rectangle(json, NULL, &bank->rails[i].at);
    dwi_json_end_array(json);
    dwi_json_end_object(json);
}

/* The elevation: x from the left outside edge, y up from the floor. */
static void write_case(struct dwi_json *json, const struct dw_job *job, const struct dw_sized_case *sized)
{
    dwi_json_object(json, NULL);
    dwi_json_string(json, "path", sized->path);
    dwi_json_string(json, "address", sized->address);
    dwi_json_integer(json, "width", sized->width);
    dwi_json_integer(json, "height", sized->height);
    dwi_json_integer(json, "depth", sized->depth);
    if (sized->inside_depth != DW_LENGTH_UNSET)
        dwi_json_integer(json, "inside_depth", sized->inside_depth);
    write_rectangle(json, "opening", &sized->opening);
    dwi_json_array(json, "banks");
    for (size_t b = 0; b < sized->bank_count; b++)
        write_bank(json, job, &sized->banks[b]);
    dwi_json_end_array(json);
    dwi_json_end_object(json);
}

enum dw_status dw_json_sizing(const struct dw_sizing *sizing, struct dw_text *out)
{
    struct dwi_json json = dwi_json_to(out);
    dwi_json_object(&json, NULL);
    dwi_json_string(&json, "job", sizing->job->id);
    dwi_json_string(&json, "units", dw_unit_word(sizing->job->unit));
    dwi_json_array(&json, "cases");
    for (size_t c = 0; c < sizing->case_count; c++)
        write_case(&json, sizing->job, &sizing->cases[c]);
    dwi_json_end_array(&json);
    dwi_json_array(&json, "drawers");
    dwi_json_drawers(&json, sizing, true);
    dwi_json_end_array(&json);
    dwi_json_end_object(&json);
    dwi_json_finish(&json);
    return DW_DONE;
}

static void write_work(struct dwi_json *json, const struct dw_part_work *work)
{
    dwi_json_flat_object(json, NULL);
    dwi_json_string(json, "where", work->where);
    dwi_json_integer(json, "from_edge", work->from_edge);
    dwi_json_integer(json, "width", work->width);
    dwi_json_integer(json, "depth", work->depth);
    dwi_json_integer(json, "pitch", work->pitch);
    dwi_json_integer(json, "number", work->number);
    dwi_json_string(json, "words", work->words);
    dwi_json_end_object(json);
}

static void write_banding(struct dwi_json *json, const struct dw_job *job, const struct dw_part *part)
{
    static const char *const edges[] = {[DW_TOP] = "top", [DW_BOTTOM] = "bottom", [DW_LEFT] = "left", [DW_RIGHT] = "right"};
    dwi_json_flat_object(json, "banding");
    for (int edge = 0; edge < DW_EDGES; edge++)
        if (part->banding[edge] < job->shop.banding_count)
            dwi_json_string(json, edges[edge], job->shop.bandings[part->banding[edge]].id);
    dwi_json_end_object(json);
}

static void write_part(struct dwi_json *json, const struct dw_job *job, const struct dw_part *part)
{
    static const char *const grains[] = {[DW_ALONG] = "along", [DW_ACROSS] = "across", [DW_FREE] = "free"};
    dwi_json_object(json, NULL);
    dwi_json_string(json, "id", part->id);
    dwi_json_string(json, "name", part->name);
    dwi_json_string(json, "material", job->shop.materials[part->material].id);
    write_figure(json, job, "length", &part->length, true);
    write_figure(json, job, "width", &part->width, true);
    dwi_json_flat_object(json, "finished");
    dwi_json_integer(json, "length", part->finished_length);
    dwi_json_integer(json, "width", part->finished_width);
    dwi_json_end_object(json);
    dwi_json_integer(json, "thickness", part->thickness);
    dwi_json_string(json, "grain", grains[part->grain]);
    write_banding(json, job, part);
    dwi_json_flat_array(json, "pieces");
    for (size_t i = 0; i < part->count; i++)
        dwi_json_string(json, NULL, part->pieces[i].mark);
    dwi_json_end_array(json);
    dwi_json_array(json, "work");
    for (size_t i = 0; i < part->work_count; i++)
        write_work(json, &part->works[i]);
    dwi_json_end_array(json);
    dwi_json_end_object(json);
}

static void write_matches(struct dwi_json *json, const struct dw_parts *parts)
{
    dwi_json_array(json, "matched");
    for (size_t m = 0; m < parts->match_count; m++) {
        const struct dw_match *match = &parts->matches[m];
        dwi_json_flat_array(json, NULL);
        for (size_t i = 0; i < match->count; i++)
            dwi_json_string(json, NULL, parts->at[match->parts[i]].pieces[match->pieces[i]].mark);
        dwi_json_end_array(json);
    }
    dwi_json_end_array(json);
}

static void write_need(struct dwi_json *json, const struct dw_need *need)
{
    dwi_json_flat_object(json, NULL);
    dwi_json_string(json, "id", need->id);
    dwi_json_string(json, "name", need->name);
    dwi_json_string(json, "supplier", need->supplier);
    dwi_json_integer(json, "count", need->count);
    dwi_json_integer(json, "packs", need->packs);
    dwi_json_integer(json, "price", need->price);
    dwi_json_integer(json, "length", need->length);
    dwi_json_string(json, "rule", need->rule);
    dwi_json_end_object(json);
}

enum dw_status dw_json_parts(const struct dw_parts *parts, struct dw_text *out)
{
    struct dwi_json json = dwi_json_to(out);
    dwi_json_object(&json, NULL);
    dwi_json_string(&json, "job", parts->sizing->job->id);
    dwi_json_array(&json, "parts");
    for (size_t i = 0; i < parts->count; i++)
        write_part(&json, parts->sizing->job, &parts->at[i]);
    dwi_json_end_array(&json);
    write_matches(&json, parts);
    dwi_json_array(&json, "needs");
    for (size_t i = 0; i < parts->need_count; i++)
        write_need(&json, &parts->needs[i]);
    dwi_json_end_array(&json);
    dwi_json_end_object(&json);
    dwi_json_finish(&json);
    return DW_DONE;
}

static void write_rung(struct dwi_json *json, const struct dw_job *job, const struct dw_ladder_rung *rung)
{
    dwi_json_flat_object(json, NULL);
    dwi_json_integer(json, "number", rung->number);
    dwi_json_string(json, "kind", dw_ladder_word(rung->kind));
    dwi_json_integer(json, "setting", rung->setting);
    dwi_json_string(json, "show", show(json, job, rung->setting));
    dwi_json_string(json, "tool", rung->tool);
    dwi_json_integer(json, "cuts", (int64_t)rung->cut_count);
    dwi_json_string(json, "edge", rung->edge);
    dwi_json_string(json, "what", rung->what);
    dwi_json_string(json, "caution", rung->caution);
    dwi_json_end_object(json);
}

static void write_layout(struct dwi_json *json, const struct dw_job *job, const struct dw_material_layout *layout)
{
    dwi_json_object(json, NULL);
    dwi_json_string(json, "material", job->shop.materials[layout->problem->material].id);
    dwi_json_integer(json, "cost", layout->cost);
    dwi_json_integer(json, "lower_bound", layout->lower_bound);
    dwi_json_bool(json, "proved", layout->proved);
    dwi_json_integer(json, "settings", (int64_t)layout->ladder.settings);
    dwi_json_integer(json, "cuts", (int64_t)layout->ladder.cuts);
    dwi_json_array(json, "sheets");
    for (size_t i = 0; i < layout->sheet_count; i++) {
        dwi_json_flat_object(json, NULL);
        dwi_json_string(json, "name", layout->sheets[i].name);
        dwi_json_string(json, "sheet", layout->problem->sources[layout->sheets[i].source].id);
        dwi_json_end_object(json);
    }
    dwi_json_end_array(json);
    dwi_json_array(json, "ladder");
    for (size_t i = 0; i < layout->ladder.rung_count; i++)
        write_rung(json, job, &layout->ladder.rungs[i]);
    dwi_json_end_array(json);
    dwi_json_end_object(json);
}

enum dw_status dw_json_layouts(const struct dw_purchase *purchase, struct dw_text *out)
{
    const struct dw_layouts *layouts = purchase->layouts;
    struct dwi_json json = dwi_json_to(out);
    dwi_json_object(&json, NULL);
    dwi_json_string(&json, "plan_id", purchase->plan_mark);
    dwi_json_array(&json, "materials");
    for (size_t m = 0; m < layouts->material_count; m++)
        write_layout(&json, layouts->jobs[0]->sizing->job, &layouts->materials[m]);
    dwi_json_end_array(&json);
    dwi_json_end_object(&json);
    dwi_json_finish(&json);
    return DW_DONE;
}

static void write_line(struct dwi_json *json, const struct dw_buy_line *line)
{
    dwi_json_flat_object(json, NULL);
    dwi_json_string(json, "supplier", line->supplier);
    dwi_json_string(json, "id", line->id);
    dwi_json_string(json, "what", line->what);
    dwi_json_integer(json, "count", line->count);
    dwi_json_integer(json, "each", line->each);
    dwi_json_integer(json, "total", line->total);
    dwi_json_end_object(json);
}

static void write_costs(struct dwi_json *json, const char *key, const struct dw_cost_line *lines, size_t count)
{
    dwi_json_array(json, key);
    for (size_t i = 0; i < count; i++) {
        dwi_json_flat_object(json, NULL);
        dwi_json_string(json, "name", lines[i].name);
        dwi_json_integer(json, "amount", lines[i].amount);
        dwi_json_array(json, "figuring");
        for (size_t s = 0; s < lines[i].step_count; s++) {
            dwi_json_object(json, NULL);
            dwi_json_string(json, "words", lines[i].steps[s].words);
            dwi_json_integer(json, "amount", lines[i].steps[s].amount);
            dwi_json_end_object(json);
        }
        dwi_json_end_array(json);
        dwi_json_end_object(json);
    }
    dwi_json_end_array(json);
}

void dwi_json_purchase_keys(struct dwi_json *json, const struct dw_purchase *purchase)
{
    dwi_json_array(json, "purchase");
    for (size_t i = 0; i < purchase->line_count; i++)
        if (purchase->lines[i].material != DW_NO_INDEX)
            write_line(json, &purchase->lines[i]);
    dwi_json_end_array(json);
    dwi_json_array(json, "hardware");
    for (size_t i = 0; i < purchase->line_count; i++)
        if (purchase->lines[i].material == DW_NO_INDEX)
            write_line(json, &purchase->lines[i]);
    dwi_json_end_array(json);
    write_costs(json, "cost", purchase->consumed, purchase->consumed_count);
}

enum dw_status dw_json_purchase(const struct dw_purchase *purchase, struct dw_text *out)
{
    struct dwi_json json = dwi_json_to(out);
    dwi_json_object(&json, NULL);
    dwi_json_string(&json, "plan_id", purchase->plan_mark);
    dwi_json_purchase_keys(&json, purchase);
    write_costs(&json, "money_out", purchase->money_out, purchase->money_out_count);
    dwi_json_integer(&json, "sheets_cost", purchase->sheets_cost);
    dwi_json_integer(&json, "lower_bound", purchase->lower_bound);
    dwi_json_bool(&json, "proved", purchase->proved);
    dwi_json_integer(&json, "total", purchase->total);
    dwi_json_leeway_keys(&json, purchase);
    dwi_json_end_object(&json);
    dwi_json_finish(&json);
    return DW_DONE;
}
