/* casework.c - the members of a plain case, derived from its outside.
 *
 *     frameless    two sides of full height and depth; top and bottom between them, as deep; the back between all four, flush with
 *                  the rear; partitions between banks in front of the back
 *     face frame   the same, less deep by the frame; two stiles from the kick up, rails between them, a stile between banks
 *
 * A case with `stretcher` has two of that width in place of a full top. The bottom stands on the kick (in a face-frame case flush with the
 * upper edge of the bottom rail, so that nothing stands up inside), and a kick board closes what is under it. A rail between drawers is cut
 * of the frame's stock as high as the rail; in a frameless case, of the case's: lying flat when it is as thick as the rail is high, else on
 * edge. (All common practice, no source; frameless sizes as in Chris Gleason's file cabinet, Popular Woodworking no. 131, Dec 2002.)
 *
 * Edging is taken off: on the front edges of sides, top, bottom, stretchers, partitions and flat rails, and all round the case on the rear
 * edges of sides, top and bottom and the ends of the sides too.
 */
#include "making.h"

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

/* One case while its members are listed. */
struct carcass {
    struct dwi_making *making;
    const struct dw_sized_case *sized;
    const struct dw_case *source;
    size_t case_index;
    const struct dw_material *stock;  /* of the case */
    const struct dw_material *frame;  /* of the face frame; NULL when frameless */
    const char *address;
    dw_length width, height, depth;   /* of the carcass, behind any face frame */
    dw_length floor;                  /* upper face of the bottom above the floor */
};

/* Which edges of a member are edged. Its long edges are front and rear. */
enum edged { EDGED_NOT, EDGED_FRONT, EDGED_FRONT_AND_REAR, EDGED_ROUND };

static dw_length known(dw_length length)
{
    return length == DW_LENGTH_UNSET ? 0 : length;
}

/* ---- one member ------------------------------------------------------------------------------------------ */

static struct dw_figure simple(const struct carcass *carcass, const char *name, const char *words, dw_length value)
{
    const struct dwi_reckoning sum = dwi_reckon(carcass->making->arena, name, words, value);
    return dwi_reckoned(&sum);
}

static struct dw_figure less_edging(const struct carcass *carcass, const struct dw_figure *figure, bool one, const char *one_words, bool other,
                                    const char *other_words)
{
    struct dwi_reckoning sum = dwi_reckon_on(carcass->making->arena, figure->name, figure);
    if (one)
        dwi_less_banding(carcass->making, &sum, carcass->source->edging, one_words);
    if (other)
        dwi_less_banding(carcass->making, &sum, carcass->source->edging, other_words);
    return dwi_reckoned(&sum);
}

static struct dwi_blank edge(const struct carcass *carcass, struct dwi_blank blank, enum edged edged)
{
    if (carcass->frame != NULL || dwi_banding(carcass->making, carcass->source->edging) == NULL)
        return blank;
    const bool round = edged == EDGED_ROUND;
    const bool rear = round || edged == EDGED_FRONT_AND_REAR;
    const bool front = rear || edged == EDGED_FRONT;
    blank.length = less_edging(carcass, &blank.length, round, "upper end", round, "lower end");
    blank.width = less_edging(carcass, &blank.width, front, "front edge", rear, "rear edge");
    const bool has[DW_EDGES] = {[DW_TOP] = front, [DW_BOTTOM] = rear, [DW_LEFT] = round, [DW_RIGHT] = round};
    for (int i = 0; i < DW_EDGES; i++)
        blank.banding[i] = has[i] ? carcass->source->edging : DW_NO_INDEX;
    dwi_check_banding(carcass->making, blank.banding, carcass->stock, carcass->address);
    return blank;
}

static void add_copies(const struct carcass *carcass, struct dwi_blank blank, const char *letters, size_t bank, size_t drawer)
{
    struct dwi_making *making = carcass->making;
    blank.grain = dwi_grain_along(&making->job->shop.materials[blank.material]);
    if (blank.length.value <= 0 || blank.width.value <= 0)
        dw_error(making->faults, DW_IMPOSSIBLE, "no-room", carcass->address, "nothing is left of the case's %s\na larger case or thinner members",
                 blank.name);
    for (size_t copy = 0; copy < (size_t)carcass->source->count; copy++) {
        const bool of_drawer = drawer != DW_NO_INDEX;
        blank.piece = (struct dw_piece){
            .mark = of_drawer ? dwi_mark_drawer(making, carcass->case_index, copy, bank, drawer, letters)
                              : dwi_mark_case(making, carcass->case_index, copy, letters),
            .drawer_path = of_drawer ? carcass->sized->banks[bank].drawers[drawer].path : carcass->sized->path,
            .case_index = carcass->case_index,
            .case_copy = copy,
            .bank_index = bank,
            .drawer_index = drawer};
        dwi_add_blank(making, &blank);
    }
}

static void add_member(const struct carcass *carcass, struct dwi_blank blank, const char *letters)
{
    add_copies(carcass, blank, letters, DW_NO_INDEX, DW_NO_INDEX);
}

static struct dwi_blank member(const char *name, size_t material, struct dw_figure length, struct dw_figure width)
{
    return dwi_blank_of(DW_PART_CASE, name, material, length, width);
}

/* ---- the carcass ----------------------------------------------------------------------------------------- */

static struct dw_figure between_sides(const struct carcass *carcass, const char *name)
{
    struct dwi_reckoning sum = dwi_reckon(carcass->making->arena, name, "outside width of the case", carcass->width);
    dwi_reckon_less(&sum, "less two sides", 2 * known(carcass->source->side));
    return dwi_reckoned(&sum);
}

static struct dw_figure depth_of(const struct carcass *carcass, const char *name)
{
    struct dwi_reckoning sum = dwi_reckon(carcass->making->arena, name, "outside depth of the case", carcass->sized->depth);
    dwi_reckon_less(&sum, "less the face frame", carcass->sized->depth - carcass->depth);
    return dwi_reckoned(&sum);
}

static struct dw_figure inside_height(const struct carcass *carcass, const char *name)
{
    struct dwi_reckoning sum = dwi_reckon(carcass->making->arena, name, "outside height of the case", carcass->height);
    dwi_reckon_less(&sum, "less the upper face of the bottom", carcass->floor);
    dwi_reckon_less(&sum, "less the top", known(carcass->source->top));
    return dwi_reckoned(&sum);
}

static void add_sides(const struct carcass *carcass)
{
    const struct dwi_blank side = edge(carcass,
                                       member("case side", carcass->source->case_material,
                                              simple(carcass, "case side length", "outside height of the case", carcass->height),
                                              depth_of(carcass, "case side width")),
                                       carcass->source->edging_round ? EDGED_ROUND : EDGED_FRONT);
    add_member(carcass, side, "L");
    add_member(carcass, side, "R");
}

static void add_top_and_bottom(const struct carcass *carcass)
{
    const struct dw_case *source = carcass->source;
    const enum edged edged = source->edging_round ? EDGED_FRONT_AND_REAR : EDGED_FRONT;
    if (known(source->stretcher) > 0) {
        const struct dwi_blank stretcher = member("stretcher", source->case_material, between_sides(carcass, "stretcher length"),
                                                  simple(carcass, "stretcher width", "as given", source->stretcher));
        add_member(carcass, edge(carcass, stretcher, EDGED_FRONT), "ST1");
        add_member(carcass, edge(carcass, stretcher, source->edging_round ? EDGED_FRONT : EDGED_NOT), "ST2");
    } else if (known(source->top) > 0) {
        add_member(carcass, edge(carcass, member("case top", source->case_material, between_sides(carcass, "case top length"),
                                                 depth_of(carcass, "case top width")), edged), "TP");
    }
    if (known(source->bottom) > 0)
        add_member(carcass, edge(carcass, member("case bottom", source->case_material, between_sides(carcass, "case bottom length"),
                                                 depth_of(carcass, "case bottom width")), edged), "BT");
    if (known(source->kick) > 0)
        add_member(carcass, member("kick board", source->case_material, between_sides(carcass, "kick board length"),
                                   simple(carcass, "kick board width", "free height beneath the bottom", source->kick)), "KB");
}

static void add_back(const struct carcass *carcass)
{
    if (known(carcass->source->back) == 0 ||
        dwi_material(carcass->making, carcass->source->back_material, carcass->address, "back_material") == NULL)
        return;
    add_member(carcass, member("case back", carcass->source->back_material, inside_height(carcass, "case back length"),
                               between_sides(carcass, "case back width")), "BK");
}

/* Between banks: of a frameless case the partition itself, of a face-frame case what stands behind the stile. */
static void add_partitions(const struct carcass *carcass)
{
    const struct dw_case *source = carcass->source;
    if (known(carcass->frame == NULL ? source->partition : source->partition_behind) == 0)
        return;
    struct dw_figure width = depth_of(carcass, "partition width");
    struct dwi_reckoning sum = dwi_reckon_on(carcass->making->arena, width.name, &width);
    dwi_reckon_less(&sum, "less the back", known(source->back));
    width = dwi_reckoned(&sum);
    const struct dwi_blank partition =
        edge(carcass, member("partition", source->case_material, inside_height(carcass, "partition length"), width), EDGED_FRONT);
    for (size_t i = 1; i < source->bank_count; i++)
        add_member(carcass, partition, dw_arena_format(carcass->making->arena, "P%zu", i));
}

/* ---- the face frame -------------------------------------------------------------------------------------- */

static void add_frame(const struct carcass *carcass)
{
    const struct dw_case *source = carcass->source;
    struct dw_arena *arena = carcass->making->arena;
    struct dwi_reckoning high = dwi_reckon(arena, "stile length", "outside height of the case", carcass->height);
    dwi_reckon_less(&high, "less the kick", known(source->kick));
    const struct dwi_blank stile = member("stile", source->frame_material, dwi_reckoned(&high),
                                          simple(carcass, "stile width", "as given", source->stile));
    add_member(carcass, stile, "SL");
    add_member(carcass, stile, "SR");
    struct dwi_reckoning wide = dwi_reckon(arena, "rail length", "outside width of the case", carcass->width);
    dwi_reckon_less(&wide, "less two stiles", 2 * source->stile);
    const struct dw_figure rail = dwi_reckoned(&wide);
    if (known(source->rail_top) > 0)
        add_member(carcass, member("top rail", source->frame_material, rail, simple(carcass, "rail width", "as given", source->rail_top)), "RT");
    if (known(source->rail_bottom) > 0)
        add_member(carcass,
                   member("bottom rail", source->frame_material, rail, simple(carcass, "rail width", "as given", source->rail_bottom)), "RB");
    for (size_t i = 1; i < source->bank_count && known(source->partition) > 0; i++)
        add_member(carcass, member("middle stile", source->frame_material,
                                   simple(carcass, "middle stile length", "height of the opening", carcass->sized->opening.height),
                                   simple(carcass, "middle stile width", "as given", source->partition)),
                   dw_arena_format(arena, "SM%zu", i));
}

/* ---- rails between drawers ------------------------------------------------------------------------------- */

static struct dwi_blank rail_of(const struct carcass *carcass, const struct dw_sized_bank *bank, const struct dw_rail *rail)
{
    const struct dw_case *source = carcass->source;
    const struct dw_figure length = simple(carcass, "rail length", "width of the opening", bank->opening_width.value);
    const char *name = rail->kind == DW_RAIL_DUMMY ? "dummy rail" : "rail";
    if (carcass->frame != NULL)
        return member(name, source->frame_material, length, simple(carcass, "rail width", "height of the rail", rail->height));
    if (rail->kind == DW_RAIL_REAL && rail->height == carcass->stock->thickness) {
        const dw_length flat = carcass->making->job->unit == DW_IN ? 3 * DW_INCH : 80 * DW_MM;
        return edge(carcass, member(name, source->case_material, length, simple(carcass, "rail width", "lying flat, by habit", flat)), EDGED_FRONT);
    }
    return member(name, source->case_material, length, simple(carcass, "rail width", "height of the rail, on edge", rail->height));
}

static void add_rails(const struct carcass *carcass)
{
    for (size_t b = 0; b < carcass->sized->bank_count; b++) {
        const struct dw_sized_bank *bank = &carcass->sized->banks[b];
        for (size_t d = 0; d + 1 < bank->drawer_count; d++) {
            const struct dw_rail *rail = &bank->drawers[d].drawer->rail_below;
            if ((rail->kind == DW_RAIL_REAL || rail->kind == DW_RAIL_DUMMY) && known(rail->height) > 0)
                add_copies(carcass, rail_of(carcass, bank, rail), "RL", b, d);
        }
    }
}

/* ---- a whole case ---------------------------------------------------------------------------------------- */

static void warn_of_thickness(const struct carcass *carcass, const char *what, dw_length drawn)
{
    if (drawn > 0 && drawn != carcass->stock->thickness)
        dw_warn(carcass->making->faults, "case-thickness", carcass->address,
                "the case's %s is %s thick, but its material measures %s\nthe measured thickness",
                what, dwi_say_unit(carcass->making, drawn), dwi_say_unit(carcass->making, carcass->stock->thickness));
}

static bool open_case(struct dwi_making *making, size_t index, struct carcass *carcass)
{
    const struct dw_sized_case *sized = &making->sizing->cases[index];
    const struct dw_case *source = sized->source;
    *carcass = (struct carcass){.making = making, .sized = sized, .source = source, .case_index = index, .address = sized->address};
    carcass->stock = dwi_material(making, source->case_material, sized->address, "material");
    if (source->style == DW_FACE_FRAME) {
        carcass->frame = dwi_material(making, source->frame_material, sized->address, "frame_material");
        if (carcass->frame == NULL)
            return false;
    }
    if (sized->depth == DW_LENGTH_UNSET) {
        dw_error(making->faults, DW_INPUT, "no-outside", sized->address,
                 "the case's own parts cannot be derived: its depth is not known\ngive the outside depth, or the opening's and the back");
        return false;
    }
    carcass->width = sized->width;
    carcass->height = sized->height;
    carcass->depth = sized->depth - known(source->frame_thickness);
    carcass->floor = known(source->kick) + dw_most(known(source->bottom), carcass->frame == NULL ? 0 : known(source->rail_bottom));
    return carcass->stock != NULL;
}

static void make_case(struct dwi_making *making, size_t index)
{
    struct carcass carcass;
    if (!open_case(making, index, &carcass))
        return;
    warn_of_thickness(&carcass, "side", known(carcass.source->side));
    warn_of_thickness(&carcass, "bottom", known(carcass.source->bottom));
    add_sides(&carcass);
    add_top_and_bottom(&carcass);
    add_back(&carcass);
    add_partitions(&carcass);
    if (carcass.frame != NULL)
        add_frame(&carcass);
    add_rails(&carcass);
}

void dwi_make_casework(struct dwi_making *making)
{
    for (size_t i = 0; i < making->sizing->case_count; i++)
        if (making->sizing->cases[i].source->derive_parts)
            make_case(making, i);
}
