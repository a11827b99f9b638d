/* json_sizing.c - JSON of a sizing: the elevation of each case, and each drawer with its figures. */
#include "json_stage.h"

#include <drawerwright/files.h>

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
    const struct {
        const char *key;
        const struct dw_figure *figure;
    } figures[] = {
        {"front_height", &drawer->front_height}, {"front_width", &drawer->front_width}, {"box_height", &drawer->box_height},
        {"box_width", &drawer->box_width}, {"box_depth", &drawer->box_depth}, {"inside_height", &drawer->inside_height},
        {"inside_width", &drawer->inside_width}, {"inside_depth", &drawer->inside_depth}, {"slide_length", &drawer->slide_length},
        {"slide_center", &drawer->slide_center}, {"set_back", &drawer->set_back}, {"cover_top", &drawer->overlay[DW_TOP]},
        {"cover_bottom", &drawer->overlay[DW_BOTTOM]}, {"cover_left", &drawer->overlay[DW_LEFT]}, {"cover_right", &drawer->overlay[DW_RIGHT]},
    };
    for (size_t i = 0; i < sizeof figures / sizeof *figures; i++)
        dwi_json_figure(json, job, figures[i].key, figures[i].figure, figuring);
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
    dwi_json_figure(json, job, "gap", &bank->gap, true);
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
