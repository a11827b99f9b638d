/* json_purchase.c - JSON of layouts and purchase: the sheets with the order of cuts, what to buy, and the cost in both views. */
#include "json_stage.h"

#include <drawerwright/files.h>

#include "json_leeway.h"

static void write_rung(struct dwi_json *json, const struct dw_job *job, const struct dw_ladder_rung *rung)
{
    dwi_json_flat_object(json, NULL);
    dwi_json_integer(json, "number", rung->number);
    dwi_json_string(json, "kind", dw_ladder_word(rung->kind));
    dwi_json_integer(json, "setting", rung->setting);
    dwi_json_show(json, job, rung->setting);
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
    dwi_json_array(json, "before_paying");
    for (size_t i = 0; i < purchase->caution_count; i++)
        dwi_json_string(json, NULL, purchase->cautions[i]);
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
