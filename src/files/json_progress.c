/* json_progress.c - where the work on a plan stands, as JSON: the pieces of the plan, all that is cut, what lies on the bench, the history. */
#include <drawerwright/files.h>

#include "json_write.h"

static void write_piece(struct dwi_json *json, const struct dw_work_piece *piece)
{
    dwi_json_string(json, "mark", piece->mark);
    dwi_json_string(json, "name", piece->name);
    dwi_json_string(json, "material", piece->material);
    dwi_json_integer(json, "thickness", piece->thickness);
    dwi_json_integer(json, "length", piece->length);
    dwi_json_integer(json, "width", piece->width);
}

static void write_pieces(struct dwi_json *json, const struct dw_progress *progress)
{
    static const char *const states[] = {[DW_PIECE_TO_CUT] = "to cut", [DW_PIECE_CUT] = "cut", [DW_PIECE_SPOILED] = "spoiled"};
    dwi_json_array(json, "pieces");
    for (size_t i = 0; i < progress->plan.piece_count; i++) {
        dwi_json_flat_object(json, NULL);
        write_piece(json, &progress->plan.pieces[i]);
        dwi_json_string(json, "state", states[progress->states[i]]);
        dwi_json_end_object(json);
    }
    dwi_json_end_array(json);
}

static void write_cut(struct dwi_json *json, const struct dw_progress *progress)
{
    dwi_json_array(json, "cut");
    for (size_t i = 0; i < progress->cut_count; i++) {
        dwi_json_flat_object(json, NULL);
        write_piece(json, &progress->cut[i].piece);
        dwi_json_string(json, "plan", progress->cut[i].plan);
        dwi_json_string(json, "changed", progress->cut[i].changed);
        dwi_json_end_object(json);
    }
    dwi_json_end_array(json);
}

static void write_left(struct dwi_json *json, const struct dw_progress *progress)
{
    dwi_json_array(json, "left");
    for (size_t i = 0; i < progress->left_count; i++) {
        const struct dw_work_panel *panel = &progress->left[i].panel;
        dwi_json_flat_object(json, NULL);
        dwi_json_string(json, "id", progress->left[i].id);
        dwi_json_string(json, "sheet", panel->sheet);
        dwi_json_string(json, "material", panel->material);
        dwi_json_integer(json, "length", panel->length);
        dwi_json_integer(json, "width", panel->width);
        dwi_json_string(json, "grain", panel->grain_across ? "width" : "length");
        if (progress->left[i].thickness != DW_LENGTH_UNSET)
            dwi_json_integer(json, "measured", progress->left[i].thickness);
        dwi_json_array(json, "not_to_be_used");
        for (int edge = 0; edge < 4; edge++)
            dwi_json_integer(json, NULL, panel->trim[edge]);
        dwi_json_end_array(json);
        dwi_json_end_object(json);
    }
    dwi_json_end_array(json);
}

static void write_mark(struct dwi_json *json, const struct dw_marked *line)
{
    static const char *const kinds[] = {[DW_MARK_ENTERED] = "entered", [DW_MARK_CUT] = "cut",   [DW_MARK_SHEET] = "done to step", [DW_MARK_SPOILED] = "spoiled",
                                        [DW_MARK_DAMAGED] = "damaged", [DW_MARK_NOTE] = "note", [DW_MARK_CHANGED] = "changed",
                                        [DW_MARK_MEASURED] = "measured"};
    static const char *const edges[] = {"left", "right", "bottom", "top"};
    dwi_json_flat_object(json, NULL);
    dwi_json_integer(json, "number", line->number);
    dwi_json_string(json, "when", line->when);
    dwi_json_string(json, "plan", line->plan);
    dwi_json_string(json, "what", kinds[line->mark.kind]);
    dwi_json_string(json, "target", line->mark.target);
    if (line->mark.kind == DW_MARK_SHEET)
        dwi_json_integer(json, "step", line->mark.step);
    if (line->mark.kind == DW_MARK_DAMAGED) {
        dwi_json_string(json, "edge", edges[line->mark.edge]);
        dwi_json_integer(json, "depth", line->mark.depth);
    }
    if (line->mark.kind == DW_MARK_MEASURED)
        dwi_json_integer(json, "thickness", line->mark.depth);
    dwi_json_string(json, "note", line->mark.note);
    dwi_json_bool(json, "taken_back", line->taken_back);
    dwi_json_end_object(json);
}

enum dw_status dw_json_progress(const struct dw_progress *progress, struct dw_text *out)
{
    struct dwi_json json = dwi_json_to(out);
    dwi_json_object(&json, NULL);
    dwi_json_string(&json, "plan_id", progress->plan.mark);
    dwi_json_string(&json, "jobs", progress->plan.jobs);
    dwi_json_string(&json, "follows", progress->plan.follows);
    dwi_json_bool(&json, "holds", progress->replaced_by[0] == '\0');
    dwi_json_string(&json, "replaced_by", progress->replaced_by);
    dwi_json_bool(&json, "posted", progress->posted);
    write_pieces(&json, progress);
    write_cut(&json, progress);
    write_left(&json, progress);
    dwi_json_array(&json, "history");
    for (size_t i = 0; i < progress->history_count; i++)
        write_mark(&json, &progress->history[i]);
    dwi_json_end_array(&json);
    dwi_json_end_object(&json);
    dwi_json_finish(&json);
    return DW_DONE;
}
