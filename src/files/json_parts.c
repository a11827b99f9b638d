/* json_parts.c - JSON of the parts: what is cut, what is done to it then, and what must be bought beside sheets. */
#include "json_stage.h"

#include <drawerwright/files.h>

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
    dwi_json_figure(json, job, "length", &part->length, true);
    dwi_json_figure(json, job, "width", &part->width, true);
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
