/* readings.c - openings as they were measured: not parallel, not square.
 *
 * The least reading counts for the size (case.c). Here stands what the other readings mean: how much the slides must be
 * packed where a tapered opening is widest, how far an opening whose diagonals differ leans, and how gaps suffer.
 *
 * Lean. In a parallelogram of width w whose top is shifted by s, the diagonals obey d1^2 - d2^2 = 4 w s, so
 *     s = (d1 - d2)(d1 + d2) / (4 w)
 * (20 wide, mean diagonal 31.24, 1/4 apart: 31.24 x 0.25 / 40 = 0.195). A drawer of height h leans by its part s h / H.
 */
#include "sizer.h"

#include <drawerwright/memory.h>

__extension__ typedef __int128 wide;

/* Readings of a bank, or of the whole case where it is its only bank. */
static struct dw_readings of_bank(const struct dw_case *source, struct dw_readings own, struct dw_readings whole)
{
    return own.count == 0 && source->bank_count == 1 ? whole : own;
}

static dw_length spread(struct dw_readings readings)
{
    return readings.count < 2 ? 0 : dw_readings_most(readings) - dw_readings_least(readings);
}

dw_length dwi_readings_taper(const struct dw_case *source, const struct dw_bank *bank)
{
    return spread(of_bank(source, bank->width, source->opening_width));
}

dw_length dwi_readings_lean(struct dw_readings diagonals, dw_length width)
{
    if (diagonals.count < 2 || width <= 0)
        return 0;
    const dw_length longer = dw_readings_most(diagonals);
    const dw_length shorter = dw_readings_least(diagonals);
    return (dw_length)((wide)(longer - shorter) * (longer + shorter) / (4 * (wide)width));
}

/* The drawer of a bank that needs the most shim; NULL when none needs any. */
static const struct dw_sized_drawer *most_shimmed(const struct dw_sized_bank *bank)
{
    const struct dw_sized_drawer *worst = NULL;
    for (size_t i = 0; i < bank->drawer_count; i++)
        if (bank->drawers[i].shim > (worst == NULL ? 0 : worst->shim))
            worst = &bank->drawers[i];
    return worst;
}

static void warn_taper(const struct dwi_sizer *sizer, const struct dw_case *source, const struct dw_sized_bank *bank)
{
    const struct dw_sized_drawer *worst = most_shimmed(bank);
    if (worst == NULL)
        return;
    const dw_length widest = bank->opening_width.value + dwi_readings_taper(source, bank->bank);
    const dw_length clearance = widest - worst->box_width.value;
    dw_warn(sizer->faults, "taper", bank->address,
            "the opening is %s at its narrowest and %s at its widest: there a box of %s has %s of clearance, and its slides allow %s\n"
            "pack %s altogether where it is widest, %s behind each slide",
            dwi_show(sizer, bank->opening_width.value), dwi_show(sizer, widest), dwi_show(sizer, worst->box_width.value),
            dwi_show(sizer, clearance), dwi_show(sizer, clearance - 2 * worst->shim), dwi_show(sizer, 2 * worst->shim),
            dwi_show(sizer, worst->shim));
}

static void warn_heights(const struct dwi_sizer *sizer, const struct dw_case *source, const struct dw_sized_bank *bank)
{
    const dw_length uneven = spread(of_bank(source, bank->bank->height, source->opening_height));
    if (uneven > sizer->habits->gap_warn)
        dw_warn(sizer->faults, "height-uneven", bank->address,
                "the opening is %s higher at one place than at another: a gap at the top or bottom grows by that along its length\n"
                "scribe the top front, or true the opening", dwi_show(sizer, uneven));
}

/* What leans most: the tallest front and the tallest box of a bank. */
struct tallest {
    dw_length front, box;
    dw_length tolerance; /* least that a slide allows */
};

static struct tallest tallest_of(const struct dwi_sizer *sizer, const struct dw_sized_bank *bank)
{
    struct tallest tallest = {.tolerance = DW_LENGTH_MAX};
    for (size_t i = 0; i < bank->drawer_count; i++) {
        const struct dw_sized_drawer *drawer = &bank->drawers[i];
        tallest.front = dw_most(tallest.front, drawer->front.height);
        tallest.box = dw_most(tallest.box, drawer->box.height);
        if (drawer->box.height > 0)
            tallest.tolerance = dw_least(tallest.tolerance, dwi_slide_of(sizer->job, drawer->drawer)->clearance_more);
    }
    return tallest;
}

static void warn_lean(const struct dwi_sizer *sizer, const struct dw_case *source, const struct dw_sized_bank *bank)
{
    const dw_length lean = dwi_readings_lean(of_bank(source, bank->bank->diagonals, source->opening_diagonals), bank->opening.width);
    const struct tallest tallest = tallest_of(sizer, bank);
    const dw_length front = dwi_scale_down(tallest.front, lean, bank->opening.height);
    const dw_length box = dwi_scale_down(tallest.box, lean, bank->opening.height);
    if (front <= sizer->habits->gap_warn && box <= tallest.tolerance)
        return;
    const char *slides = box > tallest.tolerance
                             ? dw_arena_format(sizer->arena, "its box leans by %s, more than the %s its slides allow: shim each slide plumb by up to %s",
                                               dwi_show(sizer, box), dwi_show(sizer, tallest.tolerance), dwi_show(sizer, box))
                             : "its slides take the lean of their own box without a shim";
    dw_warn(sizer->faults, "racked", bank->address,
            "by its diagonals the opening leans %s over its height: %s passes square; a front of %s leans %s, and gaps beside an "
            "inset one taper by that; %s\ntrue the case if it can be, else fit each front to its own place",
            dwi_show(sizer, lean), dwi_show(sizer, bank->opening.width - lean), dwi_show(sizer, tallest.front), dwi_show(sizer, front),
            slides);
}

/* Readings over several banks together say nothing of any one of them. */
void dwi_readings_warn_case(const struct dwi_sizer *sizer, const struct dw_sized_case *sized)
{
    const dw_length uneven = spread(sized->source->opening_width);
    if (sized->bank_count > 1 && uneven > 0)
        dw_warn(sizer->faults, "measure-banks", sized->address,
                "the opening is %s wider at one place than at another, over %zu banks together\n"
                "measure each bank's opening: its slides must fit its own widths", dwi_show(sizer, uneven), sized->bank_count);
}

void dwi_readings_warn(const struct dwi_sizer *sizer, const struct dw_sized_case *sized, const struct dw_sized_bank *bank)
{
    warn_taper(sizer, sized->source, bank);
    warn_heights(sizer, sized->source, bank);
    warn_lean(sizer, sized->source, bank);
}
