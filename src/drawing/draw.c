/* draw.c - the doors of the room: each drawing made under a guard. */
#include <drawerwright/memory.h>

#include "boxdraw.h"
#include "elevation.h"
#include "packet.h"
#include "sheetdraw.h"

static enum dw_status no_memory(struct dw_faults *faults)
{
    dw_error(faults, DW_SURROUNDINGS, "out-of-memory", "", "memory ran out while a drawing was made");
    return DW_SURROUNDINGS;
}

static enum dw_status not_there(struct dw_faults *faults, const char *what)
{
    dw_error(faults, DW_INPUT, "not-there", "", "there is no such %s to draw", what);
    return DW_INPUT;
}

struct drawing {
    const struct dw_sizing *sizing;
    const struct dw_purchase *purchase;
    const struct dw_faults *warnings;
    const struct dw_packet_options *options;
    size_t first, second;
    dw_dot width, height;
    struct dw_arena *arena;
    struct dw_scene scene;
    struct dw_scenes pages;
};

/* The frame's room on a scene of this size. */
static struct dwi_area frame_room(struct dw_arena *arena, dw_dot width, dw_dot height)
{
    struct dwi_pad pad = dwi_pad_new(arena, "", width, height);
    return dwi_frame(&pad, "", "");
}

/* Turns the paper when that shows the case larger. */
static int64_t turn_paper(struct drawing *drawing, const struct dwi_banks *banks)
{
    const int64_t as_given = dwi_case_scale(drawing->arena, banks, frame_room(drawing->arena, drawing->width, drawing->height));
    const int64_t turned = dwi_case_scale(drawing->arena, banks, frame_room(drawing->arena, drawing->height, drawing->width));
    if (turned >= as_given)
        return as_given;
    const dw_dot width = drawing->width;
    drawing->width = drawing->height;
    drawing->height = width;
    return turned;
}

static void case_body(void *context)
{
    struct drawing *drawing = context;
    const struct dw_sized_case *of = &drawing->sizing->cases[drawing->first];
    const struct dwi_banks banks = dwi_all_banks(drawing->sizing, drawing->first);
    const int64_t scale = turn_paper(drawing, &banks);
    struct dwi_pad pad = dwi_pad_new(drawing->arena, of->path, drawing->width, drawing->height);
    const struct dwi_area room = dwi_frame(&pad, of->path, drawing->sizing->job->name);
    dwi_draw_case_views(&pad, &banks, room, scale);
    drawing->scene = dwi_pad_scene(&pad);
}

enum dw_status dw_draw_case(const struct dw_sizing *sizing, size_t case_index, dw_dot width, dw_dot height, struct dw_arena *arena,
                            struct dw_faults *faults, struct dw_scene *scene)
{
    if (case_index >= sizing->case_count || sizing->cases[case_index].bank_count == 0)
        return not_there(faults, "case");
    struct drawing drawing = {.sizing = sizing, .first = case_index, .width = width, .height = height, .arena = arena};
    if (!dw_arena_guard(arena, case_body, &drawing))
        return no_memory(faults);
    *scene = drawing.scene;
    return DW_DONE;
}

static void sheet_body(void *context)
{
    struct drawing *drawing = context;
    const struct dwi_sheet sheet = {drawing->purchase, drawing->first, drawing->second};
    const char *title = dwi_sheet_title(drawing->arena, &sheet);
    struct dwi_pad pad = dwi_pad_new(drawing->arena, title, drawing->width, drawing->height);
    const struct dwi_area room = dwi_frame(&pad, title, drawing->purchase->layouts->jobs[0]->sizing->job->name);
    dwi_draw_sheet(&pad, &sheet, room);
    drawing->scene = dwi_pad_scene(&pad);
}

enum dw_status dw_draw_sheet(const struct dw_purchase *purchase, size_t material, size_t sheet, dw_dot width, dw_dot height,
                             struct dw_arena *arena, struct dw_faults *faults, struct dw_scene *scene)
{
    const struct dw_layouts *layouts = purchase->layouts;
    if (material >= layouts->material_count || sheet >= layouts->materials[material].sheet_count)
        return not_there(faults, "sheet");
    struct drawing drawing = {.purchase = purchase, .first = material, .second = sheet, .width = width, .height = height, .arena = arena};
    if (!dw_arena_guard(arena, sheet_body, &drawing))
        return no_memory(faults);
    *scene = drawing.scene;
    return DW_DONE;
}

struct box_drawing {
    struct dwi_box_facts facts;
    struct drawing drawing;
};

static void box_body(void *context)
{
    struct box_drawing *box = context;
    const struct dw_sized_drawer *drawer = box->facts.drawer;
    const char *title = dw_arena_format(box->drawing.arena, "Box of %s", drawer->path);
    struct dwi_pad pad = dwi_pad_new(box->drawing.arena, title, box->drawing.width, box->drawing.height);
    dwi_draw_box(&pad, &box->facts, dwi_frame(&pad, title, box->facts.parts->sizing->job->name));
    box->drawing.scene = dwi_pad_scene(&pad);
}

enum dw_status dw_draw_box(const struct dw_parts *parts, size_t case_index, size_t bank, size_t drawer, dw_dot width, dw_dot height,
                           struct dw_arena *arena, struct dw_faults *faults, struct dw_scene *scene)
{
    const struct dw_sizing *sizing = parts->sizing;
    struct box_drawing box = {.drawing = {.width = width, .height = height, .arena = arena}};
    if (case_index >= sizing->case_count || bank >= sizing->cases[case_index].bank_count || drawer >= sizing->cases[case_index].banks[bank].drawer_count ||
        !dwi_box_facts_of(parts, case_index, bank, drawer, &box.facts))
        return not_there(faults, "box");
    if (!dw_arena_guard(arena, box_body, &box))
        return no_memory(faults);
    *scene = box.drawing.scene;
    return DW_DONE;
}

/* Lying pages, in hundredths of a point: ANSI A 11 x 8 1/2 in; ISO 216 A4 297 x 210 mm. */
static void set_paper(struct dwi_packet *packet, enum dw_paper paper)
{
    packet->page_width = paper == DW_A4 ? dwi_dots(297 * DW_MM, 1) : dwi_dots(11 * DW_INCH, 1);
    packet->page_height = paper == DW_A4 ? dwi_dots(210 * DW_MM, 1) : dwi_dots(17 * DW_INCH / 2, 1);
}

/* The ladder leads, the sheets follow: at the saw that is the order of reading. */
static void packet_body(void *context)
{
    struct drawing *drawing = context;
    struct dwi_packet packet = {.arena = drawing->arena, .purchase = drawing->purchase, .warnings = drawing->warnings, .options = drawing->options,
                                .job = drawing->purchase->layouts->jobs[0]->sizing->job};
    set_paper(&packet, drawing->options->paper);
    dwi_packet_summary(&packet);
    dwi_packet_ladder(&packet);
    dwi_packet_sheets(&packet);
    dwi_packet_cases(&packet);
    dwi_packet_drawers(&packet);
    dwi_packet_boxes(&packet);
    dwi_packet_parts(&packet);
    dwi_packet_shopping(&packet);
    dwi_packet_cautions(&packet);
    if (drawing->options->story_stick)
        dwi_packet_stick(&packet);
    if (drawing->options->labels)
        dwi_packet_labels(&packet);
    dwi_packet_contents(&packet);
    drawing->pages = dwi_packet_close(&packet);
}

static bool labels_fit(const struct dw_packet_options *options, struct dw_faults *faults)
{
    if (dwi_labels_fit(options))
        return true;
    dw_error(faults, DW_INPUT, "labels-off", "", "the labels do not lie on the paper, or are too small to be read\n"
                                                 "at least 1 1/4 by 5/8 in each, and all of them within the paper");
    return false;
}

enum dw_status dw_check_labels(const struct dw_packet_options *options, struct dw_faults *faults)
{
    return !options->labels || labels_fit(options, faults) ? DW_DONE : DW_INPUT;
}

enum dw_status dw_draw_packet(const struct dw_purchase *purchase, const struct dw_faults *warnings, const struct dw_packet_options *options,
                              struct dw_arena *arena, struct dw_faults *faults, struct dw_scenes *pages)
{
    if (dw_check_labels(options, faults) != DW_DONE)
        return DW_INPUT;
    struct drawing drawing = {.purchase = purchase, .warnings = warnings, .options = options, .arena = arena};
    if (!dw_arena_guard(arena, packet_body, &drawing))
        return no_memory(faults);
    *pages = drawing.pages;
    return DW_DONE;
}

/* ---- labels ------------------------------------------------------------------------------------------------ */

struct label_drawing {
    const struct dw_label *labels;
    size_t count;
    const struct dw_packet_options *options;
    struct dw_arena *arena;
    struct dw_scenes pages;
};

static void labels_body(void *context)
{
    struct label_drawing *drawing = context;
    struct dwi_packet packet = {.arena = drawing->arena, .options = drawing->options};
    set_paper(&packet, drawing->options->paper);
    dwi_plain_labels(&packet, drawing->labels, drawing->count);
    drawing->pages = dwi_packet_close(&packet);
}

enum dw_status dw_draw_labels(const struct dw_label *labels, size_t count, const struct dw_packet_options *options, struct dw_arena *arena,
                              struct dw_faults *faults, struct dw_scenes *pages)
{
    if (!labels_fit(options, faults))
        return DW_INPUT;
    struct label_drawing drawing = {.labels = labels, .count = count, .options = options, .arena = arena};
    if (!dw_arena_guard(arena, labels_body, &drawing))
        return no_memory(faults);
    *pages = drawing.pages;
    return DW_DONE;
}
