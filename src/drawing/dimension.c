/* dimension.c - chains of dimensions.
 *
 * Habits after ISO 129-1 and ASME Y14.5 (from memory): fine extension lines that start a little off the object, oblique strokes at the joints,
 * figures level wherever the line runs (the unidirectional way), figures that do not fit led out to the side. Figures led out are moved apart by
 * the least total shift: with o the running sum of half sizes, centers minus o must rise, so blocks of offenders are pooled to their mean
 * (isotonic regression, "pool adjacent violators": Ayer et al., Annals of Mathematical Statistics 26, 1955).
 */
#include "dimension.h"

#include <drawerwright/memory.h>

enum {
    TICK = 250,        /* half a stroke at a joint */
    OFF_OBJECT = 300,  /* an extension line starts so far from the object */
    BEYOND = 300,      /* and ends so far past the line */
    ROW = 1250,        /* one figure over the other */
    AIR = 300          /* between figures side by side */
};

struct block {
    int64_t sum;
    int64_t count;
};

static bool out_of_order(struct block a, struct block b)
{
    return a.sum * b.count > b.sum * a.count;
}

/* Pools wished starts until they rise; writes each one's pooled mean. */
static void pool(struct dw_arena *arena, dw_dot *wishes, size_t count)
{
    struct block *blocks = dw_arena_alloc(arena, count, sizeof *blocks);
    size_t used = 0;
    for (size_t i = 0; i < count; i++) {
        blocks[used++] = (struct block){wishes[i], 1};
        while (used >= 2 && out_of_order(blocks[used - 2], blocks[used - 1])) {
            blocks[used - 2].sum += blocks[used - 1].sum;
            blocks[used - 2].count += blocks[used - 1].count;
            used--;
        }
    }
    size_t at = 0;
    for (size_t b = 0; b < used; b++)
        for (int64_t i = 0; i < blocks[b].count; i++)
            wishes[at++] = (dw_dot)(blocks[b].sum / blocks[b].count);
}

bool dwi_spread(struct dw_arena *arena, dw_dot *centers, const dw_dot *sizes, size_t count, dw_dot low, dw_dot high)
{
    if (count == 0)
        return true;
    dw_dot *offsets = dw_arena_alloc(arena, count, sizeof *offsets);
    for (size_t i = 1; i < count; i++)
        offsets[i] = offsets[i - 1] + (sizes[i - 1] + sizes[i] + 1) / 2;
    const dw_dot least = low + (sizes[0] + 1) / 2;
    const dw_dot most = high - (sizes[count - 1] + 1) / 2 - offsets[count - 1];
    if (least > most)
        return false;
    for (size_t i = 0; i < count; i++)
        centers[i] -= offsets[i];
    pool(arena, centers, count);
    for (size_t i = 0; i < count; i++) {
        const dw_dot wish = centers[i] < least ? least : centers[i] > most ? most : centers[i];
        centers[i] = wish + offsets[i];
    }
    return true;
}

/* The figures of a chain that are led out to the side. */
struct led_out {
    size_t *spans;     /* their indices */
    dw_dot *centers;
    dw_dot *sizes;     /* along the line */
    size_t count;
    size_t rows;       /* in how many rows they stand */
    dw_dot inside;     /* half of the broadest figure that stays within an upright line */
};

/* Spreads every rows-th figure in a row of its own; more rows until all fit. False when three do not do. */
static bool arrange(struct dw_arena *arena, struct led_out *out, dw_dot low, dw_dot high)
{
    dw_dot *centers = dw_arena_alloc(arena, out->count, sizeof *centers);
    dw_dot *sizes = dw_arena_alloc(arena, out->count, sizeof *sizes);
    for (out->rows = 1; out->rows <= 3; out->rows++) {
        bool fits = true;
        dw_dot *spread = dw_arena_copy(arena, out->centers, out->count, sizeof *spread);
        for (size_t row = 0; row < out->rows; row++) {
            size_t n = 0;
            for (size_t i = row; i < out->count; i += out->rows, n++) {
                centers[n] = out->centers[i];
                sizes[n] = out->sizes[i];
            }
            fits = fits && dwi_spread(arena, centers, sizes, n, low, high);
            for (size_t i = row, k = 0; i < out->count; i += out->rows)
                spread[i] = centers[k++];
        }
        if (fits) {
            out->centers = spread;
            return true;
        }
    }
    return false;
}

static struct led_out led_out_of(struct dw_arena *arena, const struct dwi_chain *chain, bool level)
{
    struct led_out out = {.spans = dw_arena_alloc(arena, chain->count, sizeof *out.spans),
                          .centers = dw_arena_alloc(arena, chain->count, sizeof *out.centers),
                          .sizes = dw_arena_alloc(arena, chain->count, sizeof *out.sizes)};
    for (size_t i = 0; i < chain->count; i++) {
        const struct dwi_span *span = &chain->spans[i];
        const dw_dot width = dwi_text_width(dwi_typeset(arena, span->text), DWI_BODY, false);
        const dw_dot needed = level ? width + 2 * AIR : DWI_BODY + AIR;
        if (span->to - span->from >= needed) {
            out.inside = width / 2 > out.inside ? width / 2 : out.inside;
            continue;
        }
        out.spans[out.count] = i;
        out.centers[out.count] = (span->from + span->to) / 2;
        out.sizes[out.count++] = level ? width + 2 * AIR : ROW;
    }
    return out;
}

static bool is_led_out(const struct led_out *out, size_t span)
{
    for (size_t i = 0; i < out->count; i++)
        if (out->spans[i] == span)
            return true;
    return false;
}

/* A point along and across the line, as x and y. */
struct place {
    dw_dot x, y;
};

static struct place place_of(bool level, dw_dot along, dw_dot across)
{
    return level ? (struct place){along, across} : (struct place){across, along};
}

static void draw_joint(struct dwi_pad *pad, const struct dwi_chain *chain, bool level, dw_dot along)
{
    const int away = chain->at > chain->object ? 1 : -1;
    if (chain->at != chain->object) {
        const struct place from = place_of(level, along, chain->object + away * OFF_OBJECT);
        const struct place to = place_of(level, along, chain->at + away * BEYOND);
        dwi_line(pad, from.x, from.y, to.x, to.y, DWI_HAIR, DW_TONE_COOL);
    }
    const struct place at = place_of(level, along, chain->at);
    dwi_line(pad, at.x - TICK, at.y + TICK, at.x + TICK, at.y - TICK, DWI_LINE, DW_TONE_COOL);
}

static void draw_lines(struct dwi_pad *pad, const struct dwi_chain *chain, bool level)
{
    const struct place from = place_of(level, chain->spans[0].from, chain->at);
    const struct place to = place_of(level, chain->spans[chain->count - 1].to, chain->at);
    dwi_line(pad, from.x, from.y, to.x, to.y, DWI_HAIR, DW_TONE_COOL);
    draw_joint(pad, chain, level, chain->spans[0].from);
    for (size_t i = 0; i < chain->count; i++)
        draw_joint(pad, chain, level, chain->spans[i].to);
}

static void draw_figure(struct dwi_pad *pad, bool level, dw_dot along, dw_dot across, enum dw_anchor anchor, const struct dwi_span *span)
{
    const struct place at = place_of(level, along, across);
    dwi_text(pad, at.x, at.y + DWI_BODY * DWI_CAP / 200, (struct dwi_type){.anchor = anchor, .behind = DW_TONE_PAPER}, span->address, span->text);
}

/* Where figures led out stand, counted from the line. */
struct off_line {
    dw_dot start; /* where their fine lines end in the first row */
    dw_dot first; /* the first row of figures */
    dw_dot step;  /* from row to row */
    dw_dot reach; /* the far end of all */
};

static struct off_line off_line_of(struct dw_arena *arena, const struct dwi_chain *chain, const struct led_out *out, bool level)
{
    dw_dot widest = 0;
    for (size_t i = 0; i < out->count; i++) {
        const dw_dot width = dwi_text_width(dwi_typeset(arena, chain->spans[out->spans[i]].text), DWI_BODY, false);
        widest = width > widest ? width : widest;
    }
    struct off_line off = {.start = level ? 700 : out->inside + 1000, .step = level ? ROW : widest + 2 * AIR};
    off.first = level ? off.start + DWI_BODY / 2 + 100 : off.start + AIR;
    off.reach = level ? DWI_BODY / 2 : out->inside;
    if (out->count > 0)
        off.reach = off.first + (dw_dot)(out->rows - 1) * off.step + (level ? DWI_BODY / 2 : widest);
    return off;
}

/* Figures led out: a fine line from the middle of the span to the figure. */
static void draw_led_out(struct dwi_pad *pad, const struct dwi_chain *chain, const struct led_out *out, bool level)
{
    const struct off_line off = off_line_of(pad->arena, chain, out, level);
    for (size_t i = 0; i < out->count; i++) {
        const struct dwi_span *span = &chain->spans[out->spans[i]];
        const dw_dot row = (dw_dot)(i % out->rows) * off.step;
        const dw_dot middle = (span->from + span->to) / 2;
        const struct place a = place_of(level, middle, chain->at);
        const struct place b = place_of(level, level ? out->centers[i] : middle, chain->at + chain->side * (level ? off.start : off.start - 700));
        const struct place c = place_of(level, out->centers[i], chain->at + chain->side * (off.start + row));
        const dw_dot points[] = {a.x, a.y, b.x, b.y, c.x, c.y};
        dwi_polyline(pad, points, 3, DWI_HAIR, DW_TONE_COOL);
    }
    for (size_t i = 0; i < out->count; i++) {
        const dw_dot row = (dw_dot)(i % out->rows) * off.step;
        const enum dw_anchor anchor = level ? DW_ANCHOR_MIDDLE : chain->side > 0 ? DW_ANCHOR_START : DW_ANCHOR_END;
        draw_figure(pad, level, out->centers[i], chain->at + chain->side * (off.first + row), anchor, &chain->spans[out->spans[i]]);
    }
}

/* The figures that are led out, arranged; none when they are too many to be read (the table of drawers has them). */
static struct led_out arranged(struct dw_arena *arena, const struct dwi_chain *chain, bool level)
{
    struct led_out out = led_out_of(arena, chain, level);
    if (!arrange(arena, &out, chain->low, chain->high))
        out.count = 0;
    return out;
}

dw_dot dwi_chain_reach(struct dw_arena *arena, const struct dwi_chain *chain, bool level)
{
    const struct led_out out = arranged(arena, chain, level);
    return off_line_of(arena, chain, &out, level).reach;
}

dw_dot dwi_chain_half(struct dw_arena *arena, const struct dwi_chain *chain, bool level)
{
    return level ? DWI_BODY / 2 : led_out_of(arena, chain, level).inside;
}

static void draw_chain(struct dwi_pad *pad, const struct dwi_chain *chain, bool level)
{
    if (chain->count == 0)
        return;
    draw_lines(pad, chain, level);
    const struct led_out led = led_out_of(pad->arena, chain, level);
    for (size_t i = 0; i < chain->count; i++)
        if (!is_led_out(&led, i))
            draw_figure(pad, level, (chain->spans[i].from + chain->spans[i].to) / 2, chain->at, DW_ANCHOR_MIDDLE, &chain->spans[i]);
    const struct led_out out = arranged(pad->arena, chain, level);
    draw_led_out(pad, chain, &out, level);
}

void dwi_chain_level(struct dwi_pad *pad, const struct dwi_chain *chain)
{
    draw_chain(pad, chain, true);
}

void dwi_chain_upright(struct dwi_pad *pad, const struct dwi_chain *chain)
{
    draw_chain(pad, chain, false);
}

void dwi_heights(struct dwi_pad *pad, dw_dot x, dw_dot floor, const struct dwi_height *heights, size_t count, dw_dot low, dw_dot high)
{
    dw_dot *centers = dw_arena_alloc(pad->arena, count, sizeof *centers);
    dw_dot *sizes = dw_arena_alloc(pad->arena, count, sizeof *sizes);
    dw_dot top = floor;
    for (size_t i = 0; i < count; i++) {
        centers[i] = heights[i].at;
        sizes[i] = ROW;
        top = heights[i].at < top ? heights[i].at : top;
    }
    if (!dwi_spread(pad->arena, centers, sizes, count, low, high))
        return; /* too many to read: the table of drawers has them */
    dwi_line(pad, x, floor, x, top - 400, DWI_LINE, DW_TONE_COOL);
    dwi_line(pad, x - 400, floor, x + 400, floor, DWI_LINE, DW_TONE_COOL);
    for (size_t i = 0; i < count; i++) {
        const dw_dot points[] = {x - 250, heights[i].at, x + 250, heights[i].at, x + 800, centers[i]};
        dwi_polyline(pad, points, 3, DWI_FINE, DW_TONE_COOL);
        dwi_text(pad, x + 1000, centers[i] + DWI_BODY * DWI_CAP / 200, (struct dwi_type){0}, heights[i].address, heights[i].text);
    }
}
