/* json_plan.c - the plan file, format 1 (docs/plan.md): lengths as integers of 1/16 micrometer, money of the smallest unit. */
#include <drawerwright/files.h>

#include <drawerwright/memory.h>

#include "json_leeway.h"
#include "json_stage.h"
#include "json_write.h"

static const char *const grains[] = {[DW_ALONG] = "along", [DW_ACROSS] = "across", [DW_FREE] = "free"};
static const char *const cuts[] = {[DW_RIP] = "rip", [DW_CROSSCUT] = "crosscut"};

/* A part's name in the file: its id, led by the job's number where several jobs are planned together. */
static const char *part_name(struct dwi_json *json, const struct dw_layouts *layouts, size_t job, size_t part)
{
    const char *id = layouts->jobs[job]->at[part].id;
    return layouts->job_count == 1 ? id : dw_arena_format(json->out->arena, "%zu.%s", job + 1, id);
}

static void write_part(struct dwi_json *json, const struct dw_parts *parts, const struct dw_part *part, const char *id)
{
    dwi_json_flat_object(json, NULL);
    dwi_json_string(json, "id", id);
    dwi_json_string(json, "job", parts->sizing->job->id);
    dwi_json_string(json, "case", dwi_part_group(parts->sizing->job, part));
    dwi_json_string(json, "drawer", part->count > 0 ? part->pieces[0].drawer_path : "");
    dwi_json_string(json, "name", part->name);
    dwi_json_string(json, "material", parts->sizing->job->shop.materials[part->material].id);
    dwi_json_integer(json, "thickness", part->thickness);
    dwi_json_integer(json, "length", part->length.value);
    dwi_json_integer(json, "width", part->width.value);
    dwi_json_object(json, "finished");
    dwi_json_integer(json, "length", part->finished_length);
    dwi_json_integer(json, "width", part->finished_width);
    dwi_json_end_object(json);
    dwi_json_integer(json, "count", (int64_t)part->count);
    dwi_json_string(json, "grain", grains[part->grain]);
    dwi_json_array(json, "pieces");
    for (size_t i = 0; i < part->count; i++)
        dwi_json_string(json, NULL, part->pieces[i].mark);
    dwi_json_end_array(json);
    dwi_json_end_object(json);
}

/* What is between two pieces is said where it is not the kerf that was laid out for. */
static void write_node(struct dwi_json *json, const char *key, const struct dw_layouts *layouts, const struct dw_layout_node *node, dw_length kerf)
{
    if (node->use == DW_NODE_CUT)
        dwi_json_object(json, key);
    else
        dwi_json_flat_object(json, key);
    dwi_json_integer(json, "x", node->x);
    dwi_json_integer(json, "y", node->y);
    dwi_json_integer(json, "length", node->length);
    dwi_json_integer(json, "width", node->width);
    if (node->use == DW_NODE_PART) {
        dwi_json_string(json, "part", part_name(json, layouts, node->piece.job, node->piece.part));
        dwi_json_string(json, "piece", node->mark);
        dwi_json_bool(json, "quarter_turn", node->turned);
    } else if (node->use == DW_NODE_CUT) {
        dwi_json_string(json, "cut", cuts[node->cut]);
        if (node->rough)
            dwi_json_bool(json, "rough", true);
        dwi_json_array(json, "pieces");
        for (size_t i = 0; i < node->piece_count; i++)
            write_node(json, NULL, layouts, &node->pieces[i], kerf);
        dwi_json_end_array(json);
    } else {
        dwi_json_string(json, "offcut", node->use == DW_NODE_KEEP ? "keep" : "waste");
        if (node->use == DW_NODE_KEEP)
            dwi_json_string(json, "mark", node->mark);
    }
    if (node->after != 0 && node->after != kerf)
        dwi_json_integer(json, "after", node->after);
    dwi_json_end_object(json);
}

/* The line that buys a source's sheets; NULL when none is bought. */
static const struct dw_buy_line *line_of(const struct dw_purchase *purchase, size_t material, size_t source)
{
    for (size_t i = 0; i < purchase->line_count; i++)
        if (purchase->lines[i].material == material && purchase->lines[i].source == source)
            return &purchase->lines[i];
    return NULL;
}

static void write_source(struct dwi_json *json, const struct dw_sheet_source *source, const struct dw_buy_line *line)
{
    dwi_json_flat_object(json, NULL);
    dwi_json_string(json, "sheet", source->id);
    dwi_json_string(json, "from", source->owned ? "rack" : "bought");
    if (source->owned)
        dwi_json_string(json, "rack_id", source->id);
    else
        dwi_json_null(json, "rack_id");
    dwi_json_integer(json, "length", source->length);
    dwi_json_integer(json, "width", source->width);
    dwi_json_string(json, "grain", source->grain_across ? "width" : "length");
    dwi_json_array(json, "trim");
    for (size_t i = 0; i < 4; i++)
        dwi_json_integer(json, NULL, source->trim[i]);
    dwi_json_end_array(json);
    dwi_json_integer(json, "price", source->price);
    dwi_json_integer(json, "value", source->value);
    if (source->count < 0)
        dwi_json_null(json, "count");
    else
        dwi_json_integer(json, "count", source->count);
    dwi_json_integer(json, "worth", line == NULL ? source->value : line->each);
    dwi_json_integer(json, "spare", line == NULL ? 0 : line->count - line->used);
    dwi_json_end_object(json);
}

/* True when a part of the same name was written for an earlier piece of the same part of the request. */
static bool named_before(const struct dw_piece_ref *pieces, size_t at)
{
    for (size_t i = 0; i < at; i++)
        if (pieces[i].job == pieces[at].job && pieces[i].part == pieces[at].part)
            return true;
    return false;
}

static void write_inequality(struct dwi_json *json, const struct dw_layouts *layouts, const struct dw_layout_problem *problem,
                             const struct dw_cut_inequality *row)
{
    dwi_json_flat_object(json, NULL);
    dwi_json_object(json, "u");
    for (size_t p = 0; p < problem->request.part_count; p++)
        for (size_t i = 0; i < (size_t)problem->request.parts[p].count; i++)
            if (row->u[p] != 0 && !named_before(problem->pieces[p], i))
                dwi_json_integer(json, part_name(json, layouts, problem->pieces[p][i].job, problem->pieces[p][i].part), row->u[p]);
    dwi_json_end_object(json);
    dwi_json_object(json, "v");
    for (size_t s = 0; s < problem->source_count; s++)
        dwi_json_integer(json, problem->sources[s].id, row->v[s]);
    dwi_json_end_object(json);
    dwi_json_integer(json, "rhs", row->rhs);
    dwi_json_end_object(json);
}

static void write_matches(struct dwi_json *json, const struct dw_layouts *layouts, size_t material)
{
    dwi_json_array(json, "matched");
    for (size_t j = 0; j < layouts->job_count; j++)
        for (size_t m = 0; m < layouts->jobs[j]->match_count; m++) {
            const struct dw_parts *parts = layouts->jobs[j];
            const struct dw_match *match = &parts->matches[m];
            if (match->count == 0 || parts->at[match->parts[0]].material != material)
                continue;
            dwi_json_flat_array(json, NULL);
            for (size_t i = 0; i < match->count; i++)
                dwi_json_string(json, NULL, parts->at[match->parts[i]].pieces[match->pieces[i]].mark);
            dwi_json_end_array(json);
        }
    dwi_json_end_array(json);
}

/* A panel's number, or null where the blade took all. */
static void write_panel_number(struct dwi_json *json, const char *key, size_t panel)
{
    if (panel == DW_NO_INDEX)
        dwi_json_null(json, key);
    else
        dwi_json_integer(json, key, (int64_t)panel);
}

/* The passes of the saw, and the panels that they make one of another: by them the file's reader knows what is left at any step. */
static void write_ladder(struct dwi_json *json, const struct dw_material_layout *layout, dw_length over)
{
    static const char *const uses[] = {[DW_NODE_CUT] = "cut", [DW_NODE_PART] = "part", [DW_NODE_KEEP] = "keep", [DW_NODE_WASTE] = "waste"};
    const struct dw_ladder *ladder = &layout->ladder;
    dwi_json_array(json, "panels");
    for (size_t i = 0; i < ladder->panel_count; i++) {
        dwi_json_flat_object(json, NULL);
        dwi_json_string(json, "name", ladder->panels[i].name);
        dwi_json_integer(json, "sheet", (int64_t)ladder->panels[i].sheet);
        dwi_json_integer(json, "length", ladder->panels[i].length);
        dwi_json_integer(json, "width", ladder->panels[i].width);
        dwi_json_string(json, "use", uses[ladder->panels[i].use]);
        dwi_json_end_object(json);
    }
    dwi_json_end_array(json);
    dwi_json_array(json, "passes");
    for (size_t r = 0; r < ladder->rung_count; r++)
        for (size_t c = 0; c < ladder->rungs[r].cut_count; c++) {
            const struct dw_ladder_cut *cut = &ladder->rungs[r].cuts[c];
            dwi_json_flat_object(json, NULL);
            dwi_json_integer(json, "step", ladder->rungs[r].number);
            dwi_json_integer(json, "panel", (int64_t)cut->panel);
            dwi_json_string(json, "cut", cuts[cut->cut]);
            dwi_json_bool(json, "from_high", cut->high);
            if (dw_rung_is_rough(&ladder->rungs[r]))
                dwi_json_integer(json, "over", over);
            write_panel_number(json, "off", cut->off);
            write_panel_number(json, "rest", cut->rest);
            dwi_json_end_object(json);
        }
    dwi_json_end_array(json);
}

static void write_material(struct dwi_json *json, const struct dw_purchase *purchase, size_t material)
{
    static const char *const comes[] = {[DW_SHEET_WHOLE] = "whole", [DW_SHEET_ROUGH] = "broken down", [DW_SHEET_YARD] = "cut at the yard"};
    const struct dw_layouts *layouts = purchase->layouts;
    const struct dw_material_layout *layout = &layouts->materials[material];
    const struct dw_layout_problem *problem = layout->problem;
    dwi_json_object(json, NULL);
    dwi_json_string(json, "material", layouts->jobs[0]->sizing->job->shop.materials[problem->material].id);
    const struct dw_habits *habits = &layouts->jobs[0]->sizing->job->shop.habits;
    dwi_json_integer(json, "kerf", problem->request.kerf);
    dwi_json_integer(json, "rough_over", habits->rough_over);
    dwi_json_flat_array(json, "van");
    dwi_json_integer(json, NULL, habits->van_length);
    dwi_json_integer(json, NULL, habits->van_width);
    dwi_json_end_array(json);
    if (problem->request.turns == 0)
        dwi_json_null(json, "turns");
    else
        dwi_json_integer(json, "turns", problem->request.turns);
    if (problem->request.first_cut < 0)
        dwi_json_null(json, "first_cut");
    else
        dwi_json_string(json, "first_cut", cuts[problem->request.first_cut]);
    dwi_json_integer(json, "cost", layout->cost);
    dwi_json_integer(json, "lower_bound", layout->lower_bound);
    dwi_json_bool(json, "proved", layout->proved);
    dwi_json_array(json, "certificate");
    for (size_t i = 0; i < layout->certificate_count; i++)
        write_inequality(json, layouts, problem, &layout->certificate[i]);
    dwi_json_end_array(json);
    dwi_json_array(json, "offered");
    for (size_t s = 0; s < problem->source_count; s++)
        write_source(json, &problem->sources[s], line_of(purchase, material, s));
    dwi_json_end_array(json);
    write_matches(json, layouts, problem->material);
    dwi_json_array(json, "sheets");
    for (size_t s = 0; s < layout->sheet_count; s++) {
        dwi_json_object(json, NULL);
        dwi_json_string(json, "sheet", problem->sources[layout->sheets[s].source].id);
        dwi_json_string(json, "name", layout->sheets[s].name);
        dwi_json_string(json, "comes", comes[layout->sheets[s].broken]);
        write_node(json, "cut", layouts, &layout->sheets[s].root, problem->request.kerf);
        dwi_json_end_object(json);
    }
    dwi_json_end_array(json);
    write_ladder(json, layout, habits->rough_over);
    dwi_json_end_object(json);
}

static void write_warnings(struct dwi_json *json, const struct dw_faults *faults)
{
    dwi_json_array(json, "warnings");
    for (size_t i = 0; i < faults->count; i++)
        if (faults->at[i].grade == DW_WARNING)
            dwi_json_fault(json, &faults->at[i]);
    dwi_json_end_array(json);
}

static void write_charges(struct dwi_json *json, const struct dw_purchase *purchase)
{
    dwi_json_array(json, "charges");
    for (size_t i = 0; i < purchase->money_out_count; i++) {
        dwi_json_flat_object(json, NULL);
        dwi_json_string(json, "name", purchase->money_out[i].name);
        dwi_json_integer(json, "amount", purchase->money_out[i].amount);
        dwi_json_end_object(json);
    }
    dwi_json_end_array(json);
    dwi_json_integer(json, "total", purchase->total);
    dwi_json_integer(json, "lower_bound", purchase->lower_bound);
    dwi_json_bool(json, "proved", purchase->proved);
}

static void write_goods(struct dwi_json *json, const struct dw_purchase *purchase)
{
    dwi_json_array(json, "goods");
    for (size_t i = 0; i < purchase->goods_count; i++) {
        dwi_json_flat_object(json, NULL);
        dwi_json_string(json, "id", purchase->goods[i].id);
        dwi_json_string(json, "what", purchase->goods[i].what);
        dwi_json_integer(json, "wanted", purchase->goods[i].wanted);
        dwi_json_integer(json, "bought", purchase->goods[i].bought);
        dwi_json_end_object(json);
    }
    dwi_json_end_array(json);
}

enum dw_status dw_json_plan(const struct dw_purchase *purchase, const struct dw_faults *warnings, struct dw_text *out)
{
    const struct dw_layouts *layouts = purchase->layouts;
    struct dwi_json json = dwi_json_to(out);
    dwi_json_object(&json, NULL);
    dwi_json_integer(&json, "format", 1);
    dwi_json_string(&json, "plan_id", purchase->plan_mark);
    if (purchase->follows != NULL) {
        dwi_json_string(&json, "follows", purchase->follows);
        dwi_json_integer(&json, "seen", purchase->seen);
    }
    dwi_json_string(&json, "program", "drawerwright " DW_VERSION);
    dwi_json_flat_array(&json, "jobs");
    for (size_t j = 0; j < layouts->job_count; j++)
        dwi_json_string(&json, NULL, layouts->jobs[j]->sizing->job->id);
    dwi_json_end_array(&json);
    dwi_json_array(&json, "parts");
    for (size_t j = 0; j < layouts->job_count; j++)
        for (size_t p = 0; p < layouts->jobs[j]->count; p++)
            write_part(&json, layouts->jobs[j], &layouts->jobs[j]->at[p], part_name(&json, layouts, j, p));
    dwi_json_end_array(&json);
    dwi_json_array(&json, "later");
    for (size_t j = 0; j < layouts->job_count; j++)
        for (size_t p = 0; p < layouts->jobs[j]->later_count; p++)
            write_part(&json, layouts->jobs[j], &layouts->jobs[j]->later[p], "");
    dwi_json_end_array(&json);
    dwi_json_array(&json, "materials");
    for (size_t m = 0; m < layouts->material_count; m++)
        write_material(&json, purchase, m);
    dwi_json_end_array(&json);
    write_charges(&json, purchase);
    dwi_json_purchase_keys(&json, purchase);
    write_goods(&json, purchase);
    dwi_json_given(&json, purchase);
    dwi_json_array(&json, "drawers");
    for (size_t j = 0; j < layouts->job_count; j++)
        dwi_json_drawers(&json, layouts->jobs[j]->sizing, false);
    dwi_json_end_array(&json);
    dwi_json_leeway_keys(&json, purchase);
    write_warnings(&json, warnings);
    dwi_json_end_object(&json);
    dwi_json_finish(&json);
    return DW_DONE;
}
