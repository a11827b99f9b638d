/* stick.c - the story stick: slide center lines at full size, measured from the case floor, on strips to cut out and join end to end.
 *
 * A printer that keeps 97 % makes 23 49/64 of 24 1/2, so every page carries a bar to be measured first, and the figures stand beside: they
 * count, not the paper.
 */
#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "dimension.h"
#include "packet.h"

enum { STRIP_HIGH = 8600, STRIP_GAP = 1600 };

struct mark {
    dw_length height;
    const char *name;
    const char *address;
};

struct stick {
    const char *name;
    const struct dw_job *job;
    struct mark *marks;  /* from the floor up */
    size_t count;
};

static const char *last_name(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash == NULL ? path : slash + 1;
}

static struct stick stick_of(struct dw_arena *arena, const struct dw_sizing *sizing, const struct dw_sized_bank *bank)
{
    struct stick stick = {.name = bank->path, .job = sizing->job, .marks = dw_arena_alloc(arena, bank->drawer_count, sizeof *stick.marks)};
    for (size_t d = bank->drawer_count; d > 0; d--) {
        const struct dw_sized_drawer *drawer = &bank->drawers[d - 1];
        if (drawer->slide_center.step_count != 0 && drawer->slide != DW_NO_INDEX)
            stick.marks[stick.count++] = (struct mark){drawer->slide_center.value, last_name(drawer->path), drawer->address};
    }
    return stick;
}

static bool same_marks(const struct stick *a, const struct stick *b)
{
    if (a->count != b->count)
        return false;
    for (size_t i = 0; i < a->count; i++)
        if (a->marks[i].height != b->marks[i].height)
            return false;
    return true;
}

static bool inches(const struct stick *stick)
{
    return stick->job->unit == DW_IN;
}

/* Six inches, or 150 mm, to hold a rule against. */
static void draw_bar(struct dwi_pad *pad, dw_dot x, dw_dot y, const struct stick *stick)
{
    const dw_length step = inches(stick) ? DW_INCH : 10 * DW_MM;
    const int steps = inches(stick) ? 6 : 15;
    const dw_dot end = x + dwi_dots(step * steps, 1);
    dwi_rectangle(pad, (struct dwi_area){x, y, end, y + 500}, DWI_FINE, DW_TONE_INK, DW_TONE_NONE, "");
    for (int i = 0; i < steps; i += 2)
        dwi_rectangle(pad, (struct dwi_area){x + dwi_dots(step * i, 1), y, x + dwi_dots(step * (i + 1), 1), y + 500}, 0, DW_TONE_NONE, DW_TONE_INK, "");
    dwi_text(pad, end + 800, y + 600, (struct dwi_type){.bold = true, .most = pad->width - DWI_MARGIN - end - 800}, "",
             inches(stick) ? "Measure this bar first: 6 in, or print anew." : "Measure this bar first: 150 mm, or print anew.");
}

/* The figures, from the top down as the drawers hang. */
static const char *figures(struct dw_arena *arena, const struct stick *stick)
{
    struct dw_text text = dw_text_in(arena);
    for (size_t i = stick->count; i > 0; i--)
        dw_text_addf(&text, "%s%s: %s", i == stick->count ? "" : ",  ", stick->marks[i - 1].name, dwi_length(arena, stick->job, stick->marks[i - 1].height));
    return text.bytes;
}

static void draw_scale_ticks(struct dwi_pad *pad, const struct stick *stick, dw_length from, dw_length to, dw_dot x, dw_dot low)
{
    const dw_length step = inches(stick) ? DW_INCH : 10 * DW_MM;
    const dw_length numbered = inches(stick) ? step : 5 * step;
    for (dw_length at = dw_round_up(from, step); at <= to; at += step) {
        const dw_dot there = x + dwi_dots(at - from, 1);
        dwi_line(pad, there, low, there, low - (at % numbered == 0 ? 900 : 500), DWI_FINE, DW_TONE_GRAY);
        if (at % numbered == 0 && at > from && at < to)
            dwi_text(pad, there, low - 1100, (struct dwi_type){.size = DWI_NOTE, .ink = DW_TONE_GRAY, .anchor = DW_ANCHOR_MIDDLE, .behind = DW_TONE_PAPER}, "",
                     dwi_length(pad->arena, stick->job, at));
    }
}

/* The marks of the stretch from .. to; their figures are moved apart where drawers are low. */
static void draw_marks(struct dwi_pad *pad, const struct stick *stick, dw_length from, dw_length to, dw_dot x, dw_dot top, dw_dot low)
{
    dw_dot *centers = dw_arena_alloc(pad->arena, stick->count, sizeof *centers);
    dw_dot *sizes = dw_arena_alloc(pad->arena, stick->count, sizeof *sizes);
    const char **texts = dw_arena_alloc(pad->arena, stick->count, sizeof *texts);
    const struct mark **shown = dw_arena_alloc(pad->arena, stick->count, sizeof *shown);
    size_t count = 0;
    for (size_t i = 0; i < stick->count; i++) {
        const struct mark *mark = &stick->marks[i];
        if (mark->height < from || mark->height >= to)
            continue;
        texts[count] = dwi_typeset(pad->arena, dw_arena_format(pad->arena, "%s   %s", mark->name, dwi_length(pad->arena, stick->job, mark->height)));
        sizes[count] = dwi_text_width(texts[count], 1200, true) + 600;
        centers[count] = x + dwi_dots(mark->height - from, 1);
        shown[count++] = mark;
    }
    const dw_dot right = x + dwi_dots(to - from, 1);
    const bool written = dwi_spread(pad->arena, centers, sizes, count, x, right); /* if not, the figures stand above the strips */
    for (size_t i = 0; i < count; i++) {
        const dw_dot at = x + dwi_dots(shown[i]->height - from, 1);
        const dw_dot points[] = {at, low, at, top + 2600, centers[i], top + 1900};
        if (!written) {
            dwi_line(pad, at, low, at, top + 2600, DWI_LINE, DW_TONE_INK);
            continue;
        }
        dwi_polyline(pad, points, 3, DWI_LINE, DW_TONE_INK);
        dwi_text(pad, centers[i], top + 1500, (struct dwi_type){.size = 1200, .bold = true, .anchor = DW_ANCHOR_MIDDLE}, shown[i]->address, texts[i]);
    }
}

static void draw_strip(struct dwi_pad *pad, const struct stick *stick, dw_length from, dw_length to, bool last, dw_dot x, dw_dot y)
{
    const dw_dot right = x + dwi_dots(to - from, 1);
    const dw_dot low = y + STRIP_HIGH;
    dwi_line(pad, x, low, right, low, DWI_LINE, DW_TONE_INK);
    dwi_dashed(pad, x, y, right, y, DWI_HAIR, DW_TONE_GRAY);
    draw_marks(pad, stick, from, to, x, y, low);
    draw_scale_ticks(pad, stick, from, to, x, low);
    dwi_line(pad, x, y, x, low, from == 0 ? DWI_BOLD : DWI_FINE, DW_TONE_INK);
    dwi_line(pad, right, y, right, low, DWI_FINE, DW_TONE_INK);
    const struct dwi_type left = {.size = DWI_NOTE, .behind = DW_TONE_PAPER, .bold = from == 0};
    const struct dwi_type end = {.size = DWI_NOTE, .behind = DW_TONE_PAPER, .anchor = DW_ANCHOR_END};
    dwi_text(pad, x + 500, low - 2900, left, "",
             from == 0 ? "case floor" : dw_arena_format(pad->arena, "join at %s", dwi_length(pad->arena, stick->job, from)));
    if (!last)
        dwi_text(pad, right - 500, low - 2900, end, "", dw_arena_format(pad->arena, "join at %s", dwi_length(pad->arena, stick->job, to)));
}

static void begin_page(struct dwi_packet *packet, const struct stick *stick, dw_dot *y)
{
    struct dwi_pad *pad = dwi_page(packet, dw_arena_format(packet->arena, "Story stick: %s",
                                                                  dwi_shorten_path(packet->arena, stick->name, DWI_TITLE, true, packet->page_width * 2 / 5)));
    draw_bar(pad, packet->room.x, packet->room.y + 300, stick);
    *y = dwi_paragraph(pad, packet->room.x, packet->room.y + 2400, (struct dwi_type){.size = 1100, .most = dwi_wide(packet->room)}, "",
                       dw_arena_format(packet->arena, "Slide centers above the case floor, %s:  %s", inches(stick) ? "inches" : "millimeters", figures(packet->arena, stick)));
}

static void draw_stick(struct dwi_packet *packet, const struct stick *stick)
{
    const dw_length top = stick->marks[stick->count - 1].height + 1; /* the last strip is that of the last mark */
    const dw_length each = inches(stick) ? 9 * DW_INCH : 240 * DW_MM;
    dw_dot y = 0;
    begin_page(packet, stick, &y);
    for (dw_length from = 0; from < top; from += each) {
        if (y + STRIP_HIGH > packet->room.y2)
            begin_page(packet, stick, &y);
        const bool last = from + each >= top;
        draw_strip(dwi_page_now(packet), stick, from, from + each, last, packet->room.x, y);
        y += STRIP_HIGH + STRIP_GAP;
    }
}

void dwi_packet_stick(struct dwi_packet *packet)
{
    const struct dw_layouts *layouts = packet->purchase->layouts;
    packet->part = "Story stick";
    for (size_t j = 0; j < layouts->job_count; j++) {
        const struct dw_sizing *sizing = layouts->jobs[j]->sizing;
        for (size_t c = 0; c < sizing->case_count; c++) {
            struct stick *sticks = dw_arena_alloc(packet->arena, sizing->cases[c].bank_count, sizeof *sticks);
            for (size_t b = 0; b < sizing->cases[c].bank_count; b++) {
                sticks[b] = stick_of(packet->arena, sizing, &sizing->cases[c].banks[b]);
                for (size_t i = 0; i < b && sticks[b].count > 0; i++)
                    if (sticks[i].count > 0 && same_marks(&sticks[i], &sticks[b])) {
                        sticks[i].name = dw_arena_format(packet->arena, "%s, %s", sticks[i].name, last_name(sticks[b].name));
                        sticks[b].count = 0; /* one stick serves both */
                    }
            }
            for (size_t b = 0; b < sizing->cases[c].bank_count; b++)
                if (sticks[b].count > 0)
                    draw_stick(packet, &sticks[b]);
        }
    }
}
