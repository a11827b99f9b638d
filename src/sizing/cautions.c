/* cautions.c - what may hurt, bind, sag or tip, said where it applies.
 *
 * Everything here is a warning: the plan goes on. Where law or a standard stands behind a caution, it is named and the
 * current text is deferred to; thresholds are a trigger for saying so, never advice on the law.
 */
#include "sizer.h"

#include <string.h>

#include <drawerwright/memory.h>

__extension__ typedef __int128 wide;

#define MILLIGRAMS_IN_POUND 453592   /* 1 lb = 453.59237 g */
#define CUBIC_METER ((wide)4096 * 1000000000000000000) /* (16 000 000 units)^3 */
#define SQUARE_METER ((wide)256000000000000)           /* (16 000 000 units)^2 */
#define GRAVITY 980665                                 /* standard, in 1e-5 m/s2 */

/* ---- masses ------------------------------------------------------------------------------------------------------ */

/* "100 lb", "45.4 kg" */
static const char *show_mass(const struct dwi_sizer *sizer, dw_mass mass)
{
    const bool pounds = sizer->job->unit == DW_IN;
    const int64_t tenths = (int64_t)(((wide)mass * 10 + (pounds ? MILLIGRAMS_IN_POUND : 1000000) / 2) /
                                     (pounds ? MILLIGRAMS_IN_POUND : 1000000));
    const char *unit = pounds ? "lb" : "kg";
    if (tenths % 10 == 0)
        return dw_arena_format(sizer->arena, "%lld %s", (long long)(tenths / 10), unit);
    return dw_arena_format(sizer->arena, "%lld.%lld %s", (long long)(tenths / 10), (long long)(tenths % 10), unit);
}

/* Mass of a load of `pressure` pascals on an area: P A / g. */
static dw_mass mass_on(dw_pressure pressure, dw_length a, dw_length b)
{
    return (dw_mass)((wide)pressure * a * b / (SQUARE_METER / 1000000) * 100000 / GRAVITY);
}

/* The pressure of a mass spread over an area: m g / A. */
static dw_pressure pressure_of(dw_mass mass, dw_length a, dw_length b)
{
    return (dw_pressure)((wide)mass * GRAVITY * (SQUARE_METER / 1000000) / ((wide)a * b) / 100000);
}

/* Adds a panel to *mass; *known turns false when its material has no density. */
static void weigh(const struct dwi_sizer *sizer, size_t material, dw_length length, dw_length width, int count, dw_mass *mass,
                  bool *known)
{
    if (material >= sizer->job->shop.material_count || sizer->job->shop.materials[material].density <= 0) {
        *known = false;
        return;
    }
    const struct dw_material *of = &sizer->job->shop.materials[material];
    *mass += (dw_mass)((wide)length * width * of->thickness / (CUBIC_METER / 1000000) * of->density * count / 1000);
}

/* Mass of the empty drawer from the outsides of its panels (joints and hardware left out); 0 when a density is not known. */
static dw_mass own_mass(const struct dwi_sizer *sizer, const struct dw_sized_drawer *drawer)
{
    const struct dw_box *box = &drawer->drawer->box;
    dw_mass mass = 0;
    bool known = true;
    weigh(sizer, drawer->drawer->front.material, drawer->front.width, drawer->front.height, 1, &mass, &known);
    weigh(sizer, box->side_material, drawer->box_depth.value, drawer->box_height.value, 2, &mass, &known);
    weigh(sizer, box->back_material, drawer->inside_width.value, drawer->box_height.value, 1, &mass, &known);
    if (drawer->drawer->front.kind != DW_FRONT_IS_BOX_FRONT)
        weigh(sizer, box->front_material, drawer->inside_width.value, drawer->box_height.value, 1, &mass, &known);
    weigh(sizer, box->bottom_material, drawer->inside_width.value, drawer->inside_depth.value, 1, &mass, &known);
    return known ? mass : 0;
}

static void check_load(const struct dwi_sizer *sizer, struct dw_sized_drawer *drawer)
{
    drawer->own = own_mass(sizer, drawer);
    drawer->load = drawer->drawer->load != DW_UNSET
                       ? drawer->drawer->load
                       : mass_on(sizer->habits->load, drawer->inside_width.value, drawer->inside_depth.value);
    if (drawer->rating == 0 || drawer->load + drawer->own <= drawer->rating)
        return;
    const struct dw_slide *slide = dwi_slide_of(sizer->job, drawer->drawer);
    const bool derated = drawer->rating < slide->rating;
    dw_warn(sizer->faults, "load-over", drawer->address,
            "a load of %s and the drawer's own %s are more than %s carries: %s%s\ntake a heavier slide, or put less in; the rating "
            "counts the drawer itself, and the slide's data sheet has the last word",
            show_mass(sizer, drawer->load), show_mass(sizer, drawer->own), slide->name, show_mass(sizer, drawer->rating),
            derated ? dw_arena_format(sizer->arena, " (%s derated in proportion, the drawer being wider than %s)",
                                      show_mass(sizer, slide->rating), dwi_show(sizer, slide->rating_width)) : "");
}

/* ---- bottoms ------------------------------------------------------------------------------------------------------- */

/* The thinnest material of the shop that would not sag past `allowed`; NULL when there is none. */
static const struct dw_material *stiffer_bottom(const struct dwi_sizer *sizer, const struct dw_sized_drawer *drawer,
                                                dw_pressure pressure)
{
    const struct dw_shop *shop = &sizer->job->shop;
    const struct dw_material *best = NULL;
    for (size_t i = 0; i < shop->material_count; i++) {
        const struct dw_material *material = &shop->materials[i];
        if (material->stiffness <= 0 || material->kind == DW_SOLID_WOOD || (best != NULL && material->thickness >= best->thickness))
            continue;
        if (dw_plate_sag(drawer->inside_width.value, drawer->inside_depth.value, material->thickness, pressure,
                         material->stiffness) <= drawer->sag_allowed)
            best = material;
    }
    return best;
}

/* How thick a bottom of the same stuff would have to be, to the next 1/32 in or half millimeter; 0 when no thickness up to
 * its own span would do. A thicker plate sags less, so the step is found by halving. */
static dw_length thickness_wanted(const struct dwi_sizer *sizer, const struct dw_sized_drawer *drawer, dw_pressure pressure,
                                  const struct dw_material *material)
{
    const dw_length a = drawer->inside_width.value;
    const dw_length b = drawer->inside_depth.value;
    const dw_length step = sizer->job->unit == DW_IN ? DW_INCH / 32 : DW_MM / 2;
    dw_length too_thin = material->thickness / step;
    dw_length enough = dw_least(a, b) / step + 1;
    if (dw_plate_sag(a, b, enough * step, pressure, material->stiffness) > drawer->sag_allowed)
        return 0;
    while (enough - too_thin > 1) {
        const dw_length middle = (too_thin + enough) / 2;
        if (dw_plate_sag(a, b, middle * step, pressure, material->stiffness) > drawer->sag_allowed)
            too_thin = middle;
        else
            enough = middle;
    }
    return enough * step;
}

static const char *cure_for_sag(const struct dwi_sizer *sizer, const struct dw_sized_drawer *drawer, dw_pressure pressure,
                                const struct dw_material *material)
{
    const struct dw_material *stiffer = stiffer_bottom(sizer, drawer, pressure);
    if (stiffer != NULL)
        return dw_arena_format(sizer->arena, "%s would do", stiffer->name);
    const dw_length thickness = thickness_wanted(sizer, drawer, pressure, material);
    if (thickness == 0)
        return "set ribs under it, or put less in";
    return dw_arena_format(sizer->arena, "%s of the same stuff would do, or a rib along the middle", dwi_show(sizer, thickness));
}

/* KCMA A161.1 loads a drawer with 15 lb/ft2; the eye notices a sag past 1/32 in a foot (Fine Woodworking, "Sturdy
 * Shelves"), that is a 384th of the span. A plate spans its short side. */
static void check_bottom(const struct dwi_sizer *sizer, struct dw_sized_drawer *drawer)
{
    const size_t index = drawer->drawer->box.bottom_material;
    if (index >= sizer->job->shop.material_count || sizer->job->shop.materials[index].stiffness <= 0)
        return;
    const struct dw_material *material = &sizer->job->shop.materials[index];
    const dw_length a = drawer->inside_width.value;
    const dw_length b = drawer->inside_depth.value;
    dw_pressure pressure = sizer->habits->load;
    if (drawer->drawer->load != DW_UNSET && pressure_of(drawer->load, a, b) > pressure)
        pressure = pressure_of(drawer->load, a, b);
    drawer->sag = dw_plate_sag(a, b, material->thickness, pressure, material->stiffness);
    drawer->sag_allowed = dw_least(a, b) / 384;
    if (drawer->sag <= drawer->sag_allowed)
        return;
    dw_warn(sizer->faults, "bottom-sags", drawer->address,
            "the bottom, %s by %s and %s thick, sags %s under its load, and more than %s is seen (1/32 in a foot of its short side)\n%s",
            dwi_show(sizer, a), dwi_show(sizer, b), dwi_show(sizer, material->thickness), dwi_show(sizer, drawer->sag),
            dwi_show(sizer, drawer->sag_allowed), cure_for_sag(sizer, drawer, pressure, material));
}

/* ---- solid fronts -------------------------------------------------------------------------------------------------- */

/* Seasonal change of a solid front across its grain: width x change of moisture x movement. 0 when it does not move. */
static dw_length movement_of(const struct dwi_sizer *sizer, const struct dw_sized_drawer *drawer, dw_length *across)
{
    const struct dw_front *front = &drawer->drawer->front;
    *across = front->grain == DW_GRAIN_VERTICAL ? drawer->front.width : drawer->front.height;
    if (drawer->drawer->fill == DW_FILL_OPEN || front->material >= sizer->job->shop.material_count)
        return 0;
    const struct dw_material *material = &sizer->job->shop.materials[front->material];
    if (material->kind != DW_SOLID_WOOD || material->movement <= 0)
        return 0;
    return dwi_scale_down(*across, material->movement * sizer->habits->moisture_percent, 1000000);
}

/* The front of a bank that moves most, if it closes more than half of its gap. */
static void check_movement(const struct dwi_sizer *sizer, const struct dw_sized_bank *bank)
{
    dw_length most = 0, widest = 0;
    for (size_t i = 0; i < bank->drawer_count; i++) {
        dw_length across = 0;
        const dw_length change = movement_of(sizer, &bank->drawers[i], &across);
        if (change > most) {
            most = change;
            widest = across;
        }
    }
    if (2 * most <= bank->gap.value)
        return;
    dw_warn(sizer->faults, "front-moves", bank->address,
            "a solid front %s across its grain may move %s over %lld %% of moisture, and its gap is %s\n"
            "leave wider gaps, cut it from quartered stock, or fit it in the damp season",
            dwi_show(sizer, widest), dwi_show(sizer, most), (long long)sizer->habits->moisture_percent, dwi_show(sizer, bank->gap.value));
}

void dwi_cautions_bank(const struct dwi_sizer *sizer, struct dw_sized_bank *bank)
{
    check_movement(sizer, bank);
    for (size_t i = 0; i < bank->drawer_count; i++) {
        if (bank->drawers[i].drawer->fill != DW_FILL_DRAWER)
            continue;
        check_load(sizer, &bank->drawers[i]);
        check_bottom(sizer, &bank->drawers[i]);
    }
}

/* ---- cases --------------------------------------------------------------------------------------------------------- */

/* Storage as 16 CFR 1261 counts it: a drawer's clear height from its bottom to what is over it, less 1/8 in, by its
 * inside; other storage by half. In millionths of a cubic meter. */
static int64_t storage_volume(const struct dwi_sizer *sizer, const struct dw_sized_case *sized)
{
    wide volume = 0;
    for (size_t i = 0; i < sized->bank_count; i++) {
        for (size_t k = 0; k < sized->banks[i].drawer_count; k++) {
            const struct dw_sized_drawer *drawer = &sized->banks[i].drawers[k];
            const struct dw_rectangle *space = &drawer->space;
            const dw_length floor = drawer->box.y + dwi_box_under(sizer->job, drawer->drawer);
            const dw_length clear = space->y + space->height - floor - DW_INCH / 8;
            const dw_length depth = sized->banks[i].opening_depth.value;
            if (drawer->drawer->fill == DW_FILL_DRAWER)
                volume += (wide)clear * drawer->inside_width.value * drawer->inside_depth.value;
            else if (depth != DW_LENGTH_UNSET && drawer->drawer->fill != DW_FILL_PANEL)
                volume += (wide)space->width * space->height * depth / 2;
        }
    }
    return (int64_t)(volume / (CUBIC_METER / 1000000));
}

/* Mass of case and drawers together; 0 when part of it is not known. */
static dw_mass mass_of_case(const struct dwi_sizer *sizer, const struct dw_sized_case *sized)
{
    const struct dw_case *source = sized->source;
    if (sized->depth == DW_LENGTH_UNSET)
        return 0;
    dw_mass mass = 0;
    bool known = true;
    weigh(sizer, source->case_material, sized->height, sized->depth, 2 + (int)sized->bank_count - 1, &mass, &known);
    weigh(sizer, source->case_material, sized->width, sized->depth, 2, &mass, &known);
    for (size_t i = 0; i < sized->bank_count; i++) {
        for (size_t k = 0; k < sized->banks[i].drawer_count; k++) {
            const struct dw_sized_drawer *drawer = &sized->banks[i].drawers[k];
            known = known && (drawer->own > 0 || drawer->drawer->fill != DW_FILL_DRAWER);
            mass += drawer->own;
        }
    }
    return known ? mass : 0;
}

/* 16 CFR 1261 takes in free-standing clothing storage units of 27 in, 30 lb and 3.2 ft3 or more (ASTM F2057-23). */
static void warn_clothing(const struct dwi_sizer *sizer, const struct dw_sized_case *sized)
{
    const int64_t volume = storage_volume(sizer, sized);
    const dw_mass mass = mass_of_case(sizer, sized);
    if (sized->height < 27 * DW_INCH || (mass != 0 && mass < 30 * (dw_mass)MILLIGRAMS_IN_POUND) || volume < 90614)
        return;
    const int64_t tenths = volume * 10 / 28317; /* 1 ft3 = 0.0283168 m3 */
    dw_warn(sizer->faults, "clothing-unit", sized->address,
            "a free-standing clothing storage unit %s high, with %lld.%lld ft3 of storage and a mass of %s, is within the size, volume and mass "
            "that 16 CFR 1261 and ASTM F2057-23 speak of\nmake it stable by the current text of that rule and anchor it to the wall; if it is "
            "sold, the rule binds",
            dwi_show(sizer, sized->height), (long long)(tenths / 10), (long long)(tenths % 10),
            mass == 0 ? "30 lb or more (not all of it is known)" : show_mass(sizer, mass));
}

static size_t drawers_of(const struct dw_sized_case *sized)
{
    size_t count = 0;
    for (size_t i = 0; i < sized->bank_count; i++)
        for (size_t k = 0; k < sized->banks[i].drawer_count; k++)
            count += sized->banks[i].drawers[k].drawer->fill == DW_FILL_DRAWER ? 1 : 0;
    return count;
}

static void warn_frame(const struct dwi_sizer *sizer, const struct dw_sized_case *sized)
{
    const struct dw_case *source = sized->source;
    const bool no_partition = source->partition_behind == 0 || source->partition_behind == DW_LENGTH_UNSET;
    if (source->style == DW_FACE_FRAME && sized->bank_count > 1 && no_partition)
        dw_warn(sizer->faults, "no-partition", sized->address,
                "nothing stands behind the stiles between the banks for slides to be screwed to\n"
                "give the thickness of a partition there, or hang the slides on boards from frame to back");
    if (source->behind_doors && (source->hinge_room == 0 || source->hinge_room == DW_LENGTH_UNSET))
        dw_warn(sizer->faults, "hinge-room", sized->address,
                "drawers stand behind doors, and no room is left for hinges and open doors\n"
                "give the room that the hinge's sheet asks on the hinge side");
}

void dwi_cautions_case(const struct dwi_sizer *sizer, const struct dw_sized_case *sized)
{
    warn_frame(sizer, sized);
    if (!sized->source->free_standing || drawers_of(sized) == 0)
        return;
    dw_warn(sizer->faults, "tip-over", sized->address,
            "a free-standing case with several loaded drawers open can tip over\n"
            "anchor it to the wall, put the heaviest things lowest, and consider a lock that lets one drawer out at a time");
    if (sized->source->clothing)
        warn_clothing(sizer, sized);
}

/* ---- notes --------------------------------------------------------------------------------------------------------- */

struct notes {
    const char **at;
    size_t count, capacity;
};

static void add_note(const struct dwi_sizer *sizer, struct notes *notes, const char *note)
{
    for (size_t i = 0; i < notes->count; i++)
        if (strcmp(notes->at[i], note) == 0)
            return;
    notes->at = dw_arena_grow(sizer->arena, notes->at, notes->count, &notes->capacity, sizeof *notes->at);
    notes->at[notes->count++] = note;
}

static dw_length thread_of(enum dw_unit unit)
{
    return unit == DW_IN ? DW_INCH / 4 : 6 * DW_MM;
}

/* 3/4 front, 1/2 box front, 1/4 of thread: 1-1/2. Common practice, no source. */
dw_length dw_pull_screw(dw_length front, dw_length behind, enum dw_unit unit)
{
    return dw_round_up(front + behind + thread_of(unit), unit == DW_IN ? DW_INCH / 4 : 5 * DW_MM);
}

static void note_drawer(const struct dwi_sizer *sizer, struct notes *notes, const struct dw_drawer *drawer)
{
    const dw_length front = dwi_thickness(sizer->job, drawer->front.material);
    const dw_length box = dwi_thickness(sizer->job, drawer->box.front_material);
    const enum dw_unit unit = sizer->job->unit;
    const dw_length shift = unit == DW_IN ? DW_INCH / 16 : 3 * DW_MM / 2;
    if (drawer->fill != DW_FILL_DRAWER || front == 0)
        return;
    if (drawer->front.kind == DW_FRONT_IS_BOX_FRONT) {
        add_note(sizer, notes, dw_arena_format(sizer->arena, "Pull screws through the front: %s and %s of thread, so %s long.", dwi_show(sizer, front),
                                               dwi_show(sizer, thread_of(unit)), dwi_show(sizer, dw_pull_screw(front, 0, unit))));
        return;
    }
    add_note(sizer, notes, dw_arena_format(sizer->arena, "Hang fronts last, on spacers as thick as the bank's gap, through oversize holes in the "
                                           "box fronts that let each be shifted %s either way before its pull is drilled.",
                                           dwi_show(sizer, shift)));
    add_note(sizer, notes, dw_arena_format(sizer->arena, "Pull screws through front and box front: %s + %s + %s of thread, so %s long.",
                                           dwi_show(sizer, front), dwi_show(sizer, box), dwi_show(sizer, thread_of(unit)),
                                           dwi_show(sizer, dw_pull_screw(front, box, unit))));
}

void dwi_cautions_notes(const struct dwi_sizer *sizer, struct dw_sizing *sizing)
{
    struct notes notes = {0};
    for (size_t i = 0; i < sizing->case_count; i++)
        for (size_t k = 0; k < sizing->cases[i].bank_count; k++)
            for (size_t n = 0; n < sizing->cases[i].banks[k].drawer_count; n++)
                note_drawer(sizer, &notes, sizing->cases[i].banks[k].drawers[n].drawer);
    sizing->notes = notes.at;
    sizing->note_count = notes.count;
}
