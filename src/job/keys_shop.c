/* keys_shop.c - the keys of a shop: habits, prices, materials with their sheets, slides, saws, hardware, banding, suppliers. */
#include <drawerwright/keys.h>

#include "rows.h"

static const char COMMON[] = "common practice, no source";

const struct dw_word dw_material_words[] = {
    {"plywood", DW_PLYWOOD},     {"MDF", DW_MDF},               {"particleboard", DW_PARTICLEBOARD},
    {"melamine", DW_MELAMINE},   {"hardboard", DW_HARDBOARD},   {"solid wood", DW_SOLID_WOOD},
    {NULL, 0},
};
const struct dw_word dw_slide_words[] = {
    {"side-mount", DW_SIDE_MOUNT}, {"undermount", DW_UNDERMOUNT},   {"center-mount", DW_CENTER_MOUNT},
    {"runner", DW_RUNNER},         {"hand-fitted", DW_HAND_FITTED}, {NULL, 0},
};
static const struct dw_word unit_words[] = {{"in", DW_IN}, {"mm", DW_MILLIMETER}, {NULL, 0}};
static const struct dw_word grain_side_words[] = {{"length", 0}, {"width", 1}, {NULL, 0}};
static const struct dw_word saw_words[] = {
    {"table", DW_TABLE_SAW}, {"track", DW_TRACK_SAW}, {"panel", DW_PANEL_SAW}, {"circular", DW_CIRCULAR_SAW}, {NULL, 0}};
static const struct dw_word per_words[] = {
    {"drawer", DW_PER_DRAWER}, {"front", DW_PER_FRONT}, {"case", DW_PER_CASE}, {"job", DW_PER_JOB}, {NULL, 0}};

/* ---- habits ----------------------------------------------------------------------------------------------- */

static const struct dw_key leeway_keys[] = {
    {YES_NO("box_heights", dw_leeway_habits, box_heights, "true"), MEANS("boxes lower, as far as box_less_most allows"), EXAMPLE("true")},
    {YES_NO("slide_lengths", dw_leeway_habits, slide_lengths, "true"), MEANS("slides one length shorter, and the boxes with them"), EXAMPLE("false")},
    {YES_NO("fronts", dw_leeway_habits, fronts, "false"), MEANS("a front one or two steps lower and another of its bank as much higher"),
     EXAMPLE("true")},
    {YES_NO("overlays", dw_leeway_habits, overlays, "false"), MEANS("overlays one step less on each side"), EXAMPLE("true")},
    {YES_NO("grooves", dw_leeway_habits, grooves, "false"),
     MEANS("bottoms that are slid in one or two steps higher, so that their backs are lower"), EXAMPLE("true")},
    {LENGTH("near", dw_leeway_habits, near, 0, SMALL_MOST), DEFAULT("1/8", "3"),
     MEANS("every plan says when so small a change of some size would save a sheet; 0: it does not look"), SOURCE(COMMON), EXAMPLE("\"1/16\"")},
};
static const struct dw_object leeway_object = {
    OBJECT("leeway habits", dw_leeway_habits, leeway_keys, "which sizes may give to save a sheet when leeway is asked for")};

static const struct dw_key habit_keys[] = {
    {LENGTH("gap", dw_habits, gap, 0, SMALL_MOST), DEFAULT("1/8", "3"),
     MEANS("space between fronts, and round an inset one"),
     SOURCE("Chris Gleason, Popular Woodworking no. 131, Dec 2002: 1/8 everywhere"), EXAMPLE("\"1/8\"")},
    {LENGTH("reveal", dw_habits, reveal, 0, PART_MOST), DEFAULT("1/8", "3"),
     MEANS("full overlay: how much of an exposed outside edge is left showing"), SOURCE(COMMON), EXAMPLE("\"1/8\"")},
    {LENGTH("reveal_wall", dw_habits, reveal_wall, 0, PART_MOST), DEFAULT("1/4", "6"),
     MEANS("full overlay: the same at a wall, which is seldom plumb"), SOURCE(COMMON), EXAMPLE("\"1/4\"")},
    {LENGTH("reveal_neighbor", dw_habits, reveal_neighbor, 0, PART_MOST), BY_RULE("half the gap"),
     MEANS("full overlay: the same beside another case"), SOURCE(COMMON), EXAMPLE("\"1/16\"")},
    {LENGTH("front_step", dw_habits, front_step, 1, SMALL_MOST), DEFAULT("1/16", "1"),
     MEANS("fronts are rounded down to a multiple of this"), SOURCE(COMMON), EXAMPLE("\"1/16\"")},
    {LENGTH("box_step", dw_habits, box_step, 1, SMALL_MOST), DEFAULT("1/32", "0.5"),
     MEANS("sizes of boxes are rounded down to a multiple of this"), SOURCE(COMMON), EXAMPLE("\"1/32\"")},
    {LENGTH("box_aim", dw_habits, box_aim, 0, SMALL_MOST), DEFAULT("0", "0"),
     MEANS("box width aimed so much under what the slide asks for"), SOURCE(COMMON), EXAMPLE("\"1/32\"")},
    {LENGTH("gap_grow", dw_habits, gap_grow, 0, SMALL_MOST), DEFAULT("1/32", "1"),
     MEANS("rounding may widen each gap by so much; what is left then goes elsewhere"), SOURCE(COMMON), EXAMPLE("\"1/32\"")},
    {LENGTH("gap_warn", dw_habits, gap_warn, 0, SMALL_MOST), DEFAULT("1/32", "1"),
     MEANS("a warning when a gap strays from its wish by more"), SOURCE(COMMON), EXAMPLE("\"1/32\"")},
    {LENGTH("box_less", dw_habits, box_less, 0, PART_MOST), DEFAULT("1 1/4", "32"),
     MEANS("wished difference between a front (or its space) and the height of the box"), SOURCE(COMMON), EXAMPLE("\"1 1/4\"")},
    {LENGTH("box_less_least", dw_habits, box_less_least, 0, PART_MOST), DEFAULT("1", "25"),
     MEANS("least such difference"), SOURCE(COMMON), EXAMPLE("\"1\"")},
    {LENGTH("box_less_most", dw_habits, box_less_most, 0, PART_MOST), DEFAULT("2", "51"),
     MEANS("greatest such difference"), SOURCE(COMMON), EXAMPLE("\"2\"")},
    {LENGTH("box_height_step", dw_habits, box_height_step, 1, PART_MOST), DEFAULT("1/4", "5"),
     MEANS("heights of boxes are rounded down to a multiple of this"), SOURCE(COMMON), EXAMPLE("\"1/4\"")},
    {LENGTH("kerf", dw_habits, kerf, 0, SMALL_MOST), DEFAULT("1/8", "3.2"),
     MEANS("width that the saw blade takes"), SOURCE("full-kerf blades: 1/8 in, common practice"), EXAMPLE("\"1/8\"")},
    {LENGTH("trim", dw_habits, trim, 0, PART_MOST), DEFAULT("1/4", "6"),
     MEANS("taken off each factory edge of a sheet first, kerf included"), SOURCE("1/8 to 1/4 in, common practice"), EXAMPLE("\"1/4\"")},
    {LENGTH("keep_length", dw_habits, keep_length, 1, CASE_MOST), DEFAULT("24", "600"),
     MEANS("an offcut is worth keeping from this long"), SOURCE(COMMON), EXAMPLE("\"24\"")},
    {LENGTH("keep_width", dw_habits, keep_width, 1, CASE_MOST), DEFAULT("6", "150"),
     MEANS("... and this wide"), SOURCE(COMMON), EXAMPLE("\"6\"")},
    {LENGTH("groove_depth", dw_habits, groove_depth, 1, STOCK_MOST), BY_RULE("half the side, rounded down to box_step"),
     MEANS("depth of the groove that holds a bottom"), SOURCE("one-half the thickness: Router Workshop"), EXAMPLE("\"1/4\"")},
    {LENGTH("groove_up", dw_habits, groove_up, 0, PART_MOST), DEFAULT("3/8", "10"),
     MEANS("the groove's lower edge above the lower edge of the side; for undermount slides the slide's recess holds"),
     SOURCE("Router Workshop: 3/8 in"), EXAMPLE("\"3/8\"")},
    {LENGTH("bottom_clearance", dw_habits, bottom_clearance, 0, SMALL_MOST), DEFAULT("1/32", "0.5"),
     MEANS("taken off a bottom in each direction, in all, so that it slides into its grooves; 0 reproduces most published lists"),
     SOURCE(COMMON), EXAMPLE("\"1/32\"")},
    {.key = "load", .kind = DW_KEY_PRESSURE, PLACE(dw_habits, load), .least = 0, .most = 100000, DEFAULT("15 lb/ft2", "718 Pa"),
     MEANS("load on a drawer's bottom by area"), SOURCE("ANSI/KCMA A161.1, drawer operation: 15 lb/ft2 (718 Pa)"), EXAMPLE("\"15 lb/ft2\"")},
    {.key = "lift_most", .kind = DW_KEY_MASS, PLACE(dw_habits, lift_most), .least = 0, .most = 1000000000, DEFAULT("51 lb", "23 kg"),
     MEANS("a sheet heavier than this, where its density is known, is broken down by rough cuts first where they cost no sheet more; else it is cautioned about"),
     SOURCE("NIOSH, Applications Manual for the Revised Lifting Equation, 1994: load constant 51 lb (23 kg)"), EXAMPLE("\"80 lb\"")},
    {LENGTH("handle_length", dw_habits, handle_length, 0, CASE_MOST), DEFAULT("0", "0"),
     MEANS("longest panel that is handled at the saw; a larger sheet is broken down by rough cuts first where they cost no sheet more; 0: no limit"),
     EXAMPLE("\"60\"")},
    {LENGTH("handle_width", dw_habits, handle_width, 0, CASE_MOST), DEFAULT("0", "0"), MEANS("... and widest; 0: no wider than it may be long"), EXAMPLE("\"48\"")},
    {LENGTH("rough_over", dw_habits, rough_over, 0, SMALL_MOST), DEFAULT("1/4", "6"),
     MEANS("a rough cut leaves each piece so much over size, and that is trimmed off later, kerf included; 0: no sheet is broken down in the shop"),
     SOURCE(COMMON), EXAMPLE("\"1/4\"")},
    {LENGTH("van_length", dw_habits, van_length, 0, CASE_MOST), DEFAULT("0", "0"),
     MEANS("longest piece that fits the van: the yard cuts down the sheets that are larger, roughly, and the shopping list says where; 0: no limit"),
     EXAMPLE("\"72\"")},
    {LENGTH("van_width", dw_habits, van_width, 0, CASE_MOST), DEFAULT("0", "0"), MEANS("... and widest; 0: no wider than it may be long"), EXAMPLE("\"48\"")},
    {COUNT("moisture_percent", dw_habits, moisture_percent, 0, 30), DEFAULT("4", "4"),
     MEANS("seasonal change of a solid front's moisture, in percent"), SOURCE(COMMON), EXAMPLE("4")},
    {WITHIN("leeway", dw_habits, leeway, leeway_object), MEANS("which sizes may give to save a sheet, when leeway is asked for"),
     EXAMPLE("{\"fronts\": true}")},
};
const struct dw_object dw_habits_object = {OBJECT("habits", dw_habits, habit_keys, "what the shop does unless told otherwise")};

/* ---- prices ----------------------------------------------------------------------------------------------- */

static const struct dw_key price_keys[] = {
    {TEXT("currency", dw_prices, currency.mark), DEFAULT("", ""), MEANS("shown behind amounts"), EXAMPLE("\"crowns\"")},
    {COUNT("decimals", dw_prices, currency.decimals, 0, DW_DECIMALS_MOST), DEFAULT("2", "2"), MEANS("digits of the currency's smallest unit"), EXAMPLE("2")},
    {PERCENT("tax", dw_prices, tax, 0, 1000000), DEFAULT("0", "0"), MEANS("on what is bought"), EXAMPLE("\"8.25 %\"")},
    {PERCENT("waste", dw_prices, waste, 0, 1000000), DEFAULT("0", "0"), MEANS("allowance on the sheets that a job consumes"), EXAMPLE("\"10 %\"")},
    {PERCENT("markup", dw_prices, markup, 0, 10000000), DEFAULT("0", "0"), MEANS("added to the cost for the price"), EXAMPLE("\"20 %\"")},
    {MONEY("labor_rate", dw_prices, labor_rate), DEFAULT("0", "0"), MEANS("for an hour; 0: labor is not priced"), EXAMPLE("\"45.00\"")},
    {COUNT("minutes_drawer", dw_prices, minutes_drawer, 0, 100000), DEFAULT("0", "0"), MEANS("labor for one drawer, in minutes"), EXAMPLE("40")},
    {COUNT("minutes_case", dw_prices, minutes_case, 0, 100000), DEFAULT("0", "0"), MEANS("labor for one case, in minutes"), EXAMPLE("240")},
    {COUNT("minutes_setting", dw_prices, minutes_setting, 0, 100000), DEFAULT("0", "0"),
     MEANS("labor for one fence or stop setting, in minutes"), EXAMPLE("3")},
};
const struct dw_object dw_prices_object = {OBJECT("prices", dw_prices, price_keys, "rules for cost beside the prices of things")};

/* ---- materials -------------------------------------------------------------------------------------------- */

static const struct dw_key break_keys[] = {
    {COUNT("from", dw_break, from, 2, 1000000), MEANS("from so many sheets on"), EXAMPLE("5"), .required = true},
    {MONEY("price", dw_break, price), MEANS("each sheet costs this"), EXAMPLE("\"64.00\""), .required = true},
};
const struct dw_object dw_break_object = {OBJECT("break", dw_break, break_keys, "a price that falls with number")};

static const struct dw_key trim_keys[] = {
    {.key = "start", .kind = DW_KEY_LENGTH, .offset = 0, .size = sizeof(dw_length), .least = 0, .most = PART_MOST,
     BY_RULE("the shop's trim"), MEANS("off the end where the length is measured from"), EXAMPLE("\"1/4\"")},
    {.key = "end", .kind = DW_KEY_LENGTH, .offset = sizeof(dw_length), .size = sizeof(dw_length), .least = 0, .most = PART_MOST,
     BY_RULE("the shop's trim"), MEANS("off the other end"), EXAMPLE("0")},
    {.key = "near", .kind = DW_KEY_LENGTH, .offset = 2 * sizeof(dw_length), .size = sizeof(dw_length), .least = 0, .most = PART_MOST,
     BY_RULE("the shop's trim"), MEANS("off the long edge where the width is measured from"), EXAMPLE("\"1/4\"")},
    {.key = "far", .kind = DW_KEY_LENGTH, .offset = 3 * sizeof(dw_length), .size = sizeof(dw_length), .least = 0, .most = PART_MOST,
     BY_RULE("the shop's trim"), MEANS("off the other long edge"), EXAMPLE("0")},
};
static const struct dw_object trim_object = {.name = "trim", .size = 4 * sizeof(dw_length), .keys = trim_keys, .count = ROW_COUNT(trim_keys),
                                             .meaning = "taken off the edges of a sheet first; one length for all four", .one_for_all = true};

static const struct dw_key sheet_keys[] = {
    {TEXT("id", dw_sheet_offer, id), MEANS("short name, one of its kind in the material"), EXAMPLE("\"4x8\""), .required = true},
    {TEXT("supplier", dw_sheet_offer, supplier), DEFAULT("", ""), MEANS("who sells it"), EXAMPLE("\"Harbor Lumber\"")},
    {LENGTH("length", dw_sheet_offer, length, 10 * DW_MM, CASE_MOST), MEANS("of the sheet; the grain runs along it unless told"),
     EXAMPLE("\"96\""), .required = true},
    {LENGTH("width", dw_sheet_offer, width, 10 * DW_MM, CASE_MOST), MEANS("of the sheet"), EXAMPLE("\"48\""), .required = true},
    {WORD("grain", dw_sheet_offer, grain_across, grain_side_words), DEFAULT("length", "length"), MEANS("which way the grain runs"),
     SOURCE("face grain runs along the long side of a sheet, common practice"), EXAMPLE("\"width\"")},
    {WITHIN("trim", dw_sheet_offer, trim, trim_object), MEANS("taken off its factory edges first"), EXAMPLE("\"1/4\"")},
    {LENGTH("allowance", dw_sheet_offer, allowance, 0, STOCK_MOST), DEFAULT("0", "0"),
     MEANS("how much smaller than its size a sheet may come; 0 trusts its size (a layout that uses all of it is warned about)"),
     SOURCE("PS 1-19: length and width +0, -1/16 in"), EXAMPLE("\"1/16\"")},
    {MONEY("price", dw_sheet_offer, price), MEANS("of one sheet"), EXAMPLE("\"68.00\""), .required = true},
    {LIST("breaks", dw_sheet_offer, breaks, break_count, dw_break_object), MEANS("prices that fall with number"),
     EXAMPLE("[{\"from\": 5, \"price\": \"64.00\"}]")},
    {COUNT("count", dw_sheet_offer, count, 0, 1000000), BY_RULE("no limit"), MEANS("how many can be had"), EXAMPLE("12")},
};
const struct dw_object dw_sheet_object = {OBJECT("sheet", dw_sheet_offer, sheet_keys, "a size in which a material is bought")};

static const struct dw_key batch_keys[] = {
    {TEXT("id", dw_batch, id), MEANS("short name, one of its kind in the material; chalk it on the sheets"), EXAMPLE("\"A\""), .required = true},
    {LENGTH("thickness", dw_batch, thickness, STOCK_LEAST, STOCK_MOST), MEANS("as measured; what is cut from it is sized by this one"), EXAMPLE("\"31/64\""),
     .required = true},
    {COUNT("count", dw_batch, count, 1, 10000), MEANS("how many sheets"), EXAMPLE("2"), .required = true},
    {TEXT("sheet", dw_batch, sheet), BY_RULE("the first of the material's sheets"), MEANS("id of the material's sheet that they are"), EXAMPLE("\"4x8\"")},
};
const struct dw_object dw_batch_object = {OBJECT("batch", dw_batch, batch_keys, "sheets of a material that are alike in thickness")};

static const struct dw_key material_keys[] = {
    {TEXT("id", dw_material, id), MEANS("short name, used wherever a material is asked for"), EXAMPLE("\"birch 1/2\""), .required = true},
    {TEXT("name", dw_material, name), BY_RULE("its id"), MEANS("as it stands on the shopping list"), EXAMPLE("\"1/2 birch plywood\"")},
    {WORD("kind", dw_material, kind, dw_material_words), DEFAULT("plywood", "plywood"), MEANS("what it is"), EXAMPLE("\"plywood\"")},
    {LENGTH("thickness", dw_material, thickness, STOCK_LEAST, STOCK_MOST), MEANS("as measured; all sizes come from this one"),
     EXAMPLE("\"15/32\""), .required = true},
    {LENGTH("nominal", dw_material, nominal, STOCK_LEAST, STOCK_MOST), BY_RULE("its thickness"), MEANS("thickness that it is called by"),
     EXAMPLE("\"1/2\"")},
    {.key = "grain", .kind = DW_KEY_YES_NO, PLACE(dw_material, grained), BY_RULE("true for plywood and solid wood, false for the rest"),
     MEANS("whether it has a grain to keep"), EXAMPLE("false")},
    {.key = "stiffness", .kind = DW_KEY_PRESSURE, PLACE(dw_material, stiffness), .least = 0, .most = 100000000000, DEFAULT("0 psi", "0 Pa"),
     MEANS("modulus of elasticity in bending; 0: not known, and no sag is reckoned"), EXAMPLE("\"8 GPa\"")},
    {.key = "density", .kind = DW_KEY_DENSITY, PLACE(dw_material, density), .least = 0, .most = 3000000, DEFAULT("0 lb/ft3", "0 kg/m3"),
     MEANS("weight by volume; 0: not known"), EXAMPLE("\"680 kg/m3\"")},
    {PERCENT("movement", dw_material, movement, 0, 20000), DEFAULT("0", "0"),
     MEANS("change of width for each 1 % of moisture, of solid wood across the grain; 0: it does not move"), EXAMPLE("\"0.369 %\"")},
    {TEXT("source", dw_material, source), DEFAULT("", ""), MEANS("where its stiffness, density and movement come from"),
     EXAMPLE("\"mill's data sheet\"")},
    {LENGTH("kerf", dw_material, kerf, 0, SMALL_MOST), BY_RULE("the shop's kerf"), MEANS("of the blade that cuts it"), EXAMPLE("\"3/32\"")},
    {LENGTH("keep_length", dw_material, keep_length, 1, CASE_MOST), BY_RULE("the shop's"), MEANS("an offcut is worth keeping from this long"),
     EXAMPLE("\"20\"")},
    {LENGTH("keep_width", dw_material, keep_width, 1, CASE_MOST), BY_RULE("the shop's"), MEANS("... and this wide"), EXAMPLE("\"5\"")},
    {LIST("batches", dw_material, batches, batch_count, dw_batch_object),
     MEANS("what its sheets measured, pile by pile: used before its other sheets, in this order"), EXAMPLE("[{\"id\": \"A\", \"thickness\": \"31/64\", \"count\": 2}]")},
    {LIST("sheets", dw_material, sheets, sheet_count, dw_sheet_object), MEANS("sizes in which it is bought"),
     EXAMPLE("[{\"id\": \"4x8\", \"length\": 96, \"width\": 48, \"price\": \"68.00\"}]")},
};
const struct dw_object dw_material_object = {OBJECT("material", dw_material, material_keys, "a sheet good or wood that parts are cut from")};

/* ---- slides ----------------------------------------------------------------------------------------------- */

static const struct dw_key slide_length_keys[] = {
    {LENGTH("length", dw_slide_length, length, 50 * DW_MM, 2000 * DW_MM), MEANS("named length of the slide"), EXAMPLE("\"16\""), .required = true},
    {MONEY("price", dw_slide_length, price), DEFAULT("0", "0"), MEANS("of a pair"), EXAMPLE("\"14.20\"")},
};
const struct dw_object dw_slide_length_object = {OBJECT("slide length", dw_slide_length, slide_length_keys, "a length on offer"), .bare = {"length"}};

static const struct dw_key slide_keys[] = {
    {TEXT("id", dw_slide, id), MEANS("short name, used wherever a slide is asked for"), EXAMPLE("\"side 100\""), .required = true},
    {TEXT("name", dw_slide, name), BY_RULE("its id"), MEANS("as it stands on the shopping list"), EXAMPLE("\"full-extension slides, 100 lb\"")},
    {WORD("kind", dw_slide, kind, dw_slide_words), DEFAULT("side-mount", "side-mount"), MEANS("how it carries a drawer"), EXAMPLE("\"undermount\"")},
    {LENGTH("clearance", dw_slide, clearance, 0, PART_MOST),
     BY_RULE("side-mount 1/2 in (12.7 mm), center-mount 1/16 in (1.5 mm), runner and hand-fitted 1/32 in (1 mm), undermount 0"),
     MEANS("side space on each side: the box is as wide as the opening less two of these"),
     SOURCE("usual data sheets of side-mount slides: 1/2 in; wooden runners: Popular Woodworking, 1/32 in"), EXAMPLE("\"1/2\"")},
    {LENGTH("clearance_more", dw_slide, clearance_more, 0, SMALL_MOST), BY_RULE("side-mount 1/16 in (1.6 mm) in all, others 0"),
     MEANS("the slide still works with so much more, both sides together"),
     SOURCE("usual data sheets, from memory: 1/2 in +1/32 -0 (12.7 mm +0.8 -0) each side"), EXAMPLE("\"1/16\"")},
    {LENGTH("clearance_less", dw_slide, clearance_less, 0, SMALL_MOST), DEFAULT("0", "0"), MEANS("... or with so much less"), EXAMPLE("0")},
    {LENGTH("inside_less", dw_slide, inside_less, 0, PART_MOST), BY_RULE("undermount 42 mm, others 0"),
     MEANS("undermount: the box is inside as wide as the opening less this"),
     SOURCE("drawer makers' data sheets: 21 mm each side from the inside of the drawer to the case"), EXAMPLE("\"42 mm\"")},
    {LENGTH("side_most", dw_slide, side_most, 0, STOCK_MOST), BY_RULE("undermount 16 mm, others no limit (0)"),
     MEANS("thickest box side that it takes"), SOURCE("drawer makers' data sheets: sides up to 16 mm (5/8 in)"), EXAMPLE("\"16 mm\"")},
    {LENGTH("notch", dw_slide, notch, 0, PART_MOST), DEFAULT("0", "0"),
     MEANS("undermount: width of the notch that it wants in each lower corner of the back; 0: not known, its data sheet says"), EXAMPLE("\"1 3/8\"")},
    {LENGTH("recess", dw_slide, recess, 0, PART_MOST), BY_RULE("undermount 1/2 in (12.7 mm), others 0"),
     MEANS("underside of the bottom above the lower edge of the sides"), SOURCE("drawer makers' data sheets: 1/2 in"), EXAMPLE("\"1/2\"")},
    {LENGTH("below", dw_slide, below, 0, PART_MOST),
     BY_RULE("side-mount 1/4 in (6 mm), undermount 9/16 in (14.3 mm), center-mount 1/4 in (6 mm), runner and hand-fitted 0"),
     MEANS("least free height beneath the box"), SOURCE("common practice; undermount: 13/16 in below and above together, makers' data sheets"),
     EXAMPLE("\"1/4\"")},
    {LENGTH("above", dw_slide, above, 0, PART_MOST),
     BY_RULE("side-mount 1/2 in (13 mm), undermount 1/4 in (6.4 mm), center-mount 1/4 in (6 mm), runner and hand-fitted 1/16 in (1.5 mm)"),
     MEANS("least free height over the box, for tipping it in"), SOURCE("common practice; undermount as for below"), EXAMPLE("\"1/2\"")},
    {LENGTH("box_least", dw_slide, box_least, 0, PART_MOST), BY_RULE("side-mount 2 in (50 mm), undermount 2 1/2 in (64 mm), others 1 in (25 mm)"),
     MEANS("least height of a box that it can be fixed to"), SOURCE("side-mount slides are about 45 mm high, from memory; others our own choice"),
     EXAMPLE("\"2\"")},
    {LENGTH("rear", dw_slide, rear, 0, PART_MOST), BY_RULE("side-mount 3/8 in (10 mm), undermount 1/2 in (13 mm), others 1/4 in (6 mm)"),
     MEANS("least free depth behind the slide or box"), SOURCE(COMMON), EXAMPLE("\"3/8\"")},
    {LENGTH("set_back", dw_slide, set_back, 0, PART_MOST), DEFAULT("0", "0"),
     MEANS("from the face of the case or frame to the slide; an inset front's thickness comes on top"), EXAMPLE("\"1/8\"")},
    {LENGTH("center", dw_slide, center, 0, PART_MOST), BY_RULE("half the height of the box"),
     MEANS("its center line above the lower edge of the box"), EXAMPLE("\"2\"")},
    {LENGTH("longer", dw_slide, longer, 0, PART_MOST), DEFAULT("0", "0"), MEANS("how much longer than its name it really is"), EXAMPLE("\"1/2\"")},
    {.key = "rating", .kind = DW_KEY_MASS, PLACE(dw_slide, rating), .least = 0, .most = 1000000000, DEFAULT("0 lb", "0 kg"),
     MEANS("load that a pair carries, the drawer's own weight included; 0: not known"), EXAMPLE("\"100 lb\"")},
    {LENGTH("rating_width", dw_slide, rating_width, 0, CASE_MOST), DEFAULT("0", "0"),
     MEANS("widest drawer that its rating holds for; 0: not known"), EXAMPLE("\"24\"")},
    {LIST("lengths", dw_slide, lengths, length_count, dw_slide_length_object), MEANS("lengths on offer, rising; none for hand-fitted drawers"),
     EXAMPLE("[12, 14, {\"length\": 16, \"price\": \"14.20\"}]")},
};
const struct dw_object dw_slide_object = {OBJECT("slide", dw_slide, slide_keys, "what a drawer runs on, described by its figures")};

/* ---- saws, hardware, banding, suppliers ------------------------------------------------------------------- */

static const struct dw_key saw_keys[] = {
    {TEXT("name", dw_saw, name), BY_RULE("its kind and \"saw\""), MEANS("what the shop calls it"), EXAMPLE("\"table saw\"")},
    {WORD("kind", dw_saw, kind, saw_words), DEFAULT("table", "table"), MEANS("what it is; a circular saw makes rough cuts only"), EXAMPLE("\"track\"")},
    {LENGTH("kerf", dw_saw, kerf, 0, SMALL_MOST), BY_RULE("the shop's kerf"), MEANS("width that its blade takes"), EXAMPLE("\"3/32\"")},
    {LENGTH("rip_most", dw_saw, rip_most, 0, CASE_MOST), DEFAULT("0", "0"), MEANS("greatest distance from blade to fence; 0: it has no fence"),
     EXAMPLE("\"36\"")},
    {LENGTH("crosscut_most", dw_saw, crosscut_most, 0, CASE_MOST), DEFAULT("0", "0"), MEANS("widest piece that it crosscuts; 0: no limit"),
     EXAMPLE("\"24\"")},
    {LENGTH("cut_longest", dw_saw, cut_longest, 0, CASE_MOST), DEFAULT("0", "0"), MEANS("longest cut; 0: no limit"), EXAMPLE("\"110\"")},
    {LENGTH("width_least", dw_saw, width_least, 0, PART_MOST), DEFAULT("1/2", "13"), MEANS("narrowest strip that may be ripped"),
     SOURCE("a table saw's owner's manual: never through-saw narrower than 1/2 in"), EXAMPLE("\"1/2\"")},
    {LENGTH("edge_least", dw_saw, edge_least, 0, PART_MOST), DEFAULT("10", "254"), MEANS("shortest edge that may run against the fence"),
     SOURCE("a table saw's owner's manual: never rip shorter than 10 in"), EXAMPLE("\"10\"")},
};
const struct dw_object dw_saw_object = {OBJECT("saw", dw_saw, saw_keys, "where the wood is cut")};

static const struct dw_key hardware_keys[] = {
    {TEXT("id", dw_hardware, id), MEANS("short name"), EXAMPLE("\"pull\""), .required = true},
    {TEXT("name", dw_hardware, name), BY_RULE("its id"), MEANS("as it stands on the shopping list"), EXAMPLE("\"bin pull, 3 in centers\"")},
    {TEXT("supplier", dw_hardware, supplier), DEFAULT("", ""), MEANS("who sells it"), EXAMPLE("\"Anvil Row\"")},
    {WORD("per", dw_hardware, per, per_words), DEFAULT("drawer", "drawer"), MEANS("counted for each"), EXAMPLE("\"front\"")},
    {COUNT("count", dw_hardware, count, 1, 100000), DEFAULT("1", "1"), MEANS("how many for each"), EXAMPLE("2")},
    {LENGTH("from_width", dw_hardware, from_width, 0, CASE_MOST), DEFAULT("0", "0"), MEANS("only for fronts at least this wide"), EXAMPLE("\"30\"")},
    {MONEY("price", dw_hardware, price), DEFAULT("0", "0"), MEANS("of a pack"), EXAMPLE("\"6.50\"")},
    {COUNT("pack", dw_hardware, pack, 1, 1000000), DEFAULT("1", "1"), MEANS("pieces in a pack"), EXAMPLE("10")},
    {YES_NO("pull", dw_hardware, pull, "false"), MEANS("a pull or knob: the front is drilled for it and it wants screws"), EXAMPLE("true")},
    {LENGTH("centers", dw_hardware, centers, 0, PART_MOST), DEFAULT("0", "0"), MEANS("of a pull's two screws; 0: a knob with one"), EXAMPLE("\"3\"")},
    {MONEY("screw_price", dw_hardware, screw_price), DEFAULT("0", "0"), MEANS("of one such screw; 0: they come with the pull"), EXAMPLE("\"0.12\"")},
};
const struct dw_object dw_hardware_object = {OBJECT("hardware", dw_hardware, hardware_keys, "one more thing to buy, counted by a rule")};

static const struct dw_key banding_keys[] = {
    {TEXT("id", dw_banding, id), MEANS("short name, used wherever banding is asked for"), EXAMPLE("\"birch edge\""), .required = true},
    {TEXT("name", dw_banding, name), BY_RULE("its id"), MEANS("as it stands on the shopping list"), EXAMPLE("\"birch edge banding\"")},
    {TEXT("supplier", dw_banding, supplier), DEFAULT("", ""), MEANS("who sells it"), EXAMPLE("\"Harbor Lumber\"")},
    {LENGTH("thickness", dw_banding, thickness, 0, SMALL_MOST), MEANS("what it adds to an edge"), EXAMPLE("\"1/64\""), .required = true},
    {LENGTH("width", dw_banding, width, 0, PART_MOST), DEFAULT("13/16", "22"), MEANS("of the strip"), SOURCE(COMMON), EXAMPLE("\"13/16\"")},
    {LENGTH("waste", dw_banding, waste, 0, PART_MOST), DEFAULT("1", "25"), MEANS("cut longer than its edge by so much"), SOURCE(COMMON),
     EXAMPLE("\"1\"")},
    {LENGTH("roll", dw_banding, roll, 0, DW_LENGTH_MAX), DEFAULT("300", "7500"), MEANS("length of a roll"), SOURCE("25 ft rolls, common practice"),
     EXAMPLE("\"25 ft\"")},
    {MONEY("price", dw_banding, price), DEFAULT("0", "0"), MEANS("of a roll"), EXAMPLE("\"9.80\"")},
};
const struct dw_object dw_banding_object = {OBJECT("banding", dw_banding, banding_keys, "what covers a sheet good's edges")};

static const struct dw_key supplier_keys[] = {
    {TEXT("name", dw_supplier, name), MEANS("as sheets and hardware name it"), EXAMPLE("\"Harbor Lumber\""), .required = true},
    {MONEY("delivery", dw_supplier, delivery), DEFAULT("0", "0"), MEANS("asked for bringing an order"), EXAMPLE("\"35.00\"")},
    {YES_NO("left_out", dw_supplier, left_out, "false"), MEANS("nothing is bought here"), EXAMPLE("true")},
};
const struct dw_object dw_supplier_object = {OBJECT("supplier", dw_supplier, supplier_keys, "who sells")};

/* ---- the shop --------------------------------------------------------------------------------------------- */

static const struct dw_key shop_keys[] = {
    {COUNT("format", dw_shop, format, 1, 1), DEFAULT("1", "1"), MEANS("of a shop in a file of its own"), EXAMPLE("1")},
    {TEXT("name", dw_shop, name), DEFAULT("", ""), MEANS("of the shop"), EXAMPLE("\"Tern Island Museum joinery\"")},
    {WORD("units", dw_shop, unit, unit_words), BY_RULE("the job's; a shop in a file of its own must say them"), MEANS("of bare numbers in this shop"), EXAMPLE("\"in\"")},
    {WITHIN("habits", dw_shop, habits, dw_habits_object), MEANS("what the shop does unless told otherwise"), EXAMPLE("{\"kerf\": \"1/8\"}")},
    {WITHIN("prices", dw_shop, prices, dw_prices_object), MEANS("tax, labor and mark-up"), EXAMPLE("{\"tax\": \"8.25 %\"}")},
    {LIST("materials", dw_shop, materials, material_count, dw_material_object), MEANS("what parts are cut from"),
     EXAMPLE("[{\"id\": \"birch 1/2\", \"thickness\": \"15/32\"}]")},
    {LIST("slides", dw_shop, slides, slide_count, dw_slide_object), MEANS("what drawers run on; the first is used unless told otherwise"),
     EXAMPLE("[{\"id\": \"side 100\", \"lengths\": [12, 14, 16]}]")},
    {LIST("saws", dw_shop, saws, saw_count, dw_saw_object), MEANS("where the wood is cut"), EXAMPLE("[{\"kind\": \"table\", \"rip_most\": 36}]")},
    {LIST("hardware", dw_shop, hardware, hardware_count, dw_hardware_object), MEANS("what else is bought, by rule"),
     EXAMPLE("[{\"id\": \"pull\", \"per\": \"front\"}]")},
    {LIST("banding", dw_shop, bandings, banding_count, dw_banding_object), MEANS("what covers edges"),
     EXAMPLE("[{\"id\": \"birch edge\", \"thickness\": \"1/64\"}]")},
    {LIST("suppliers", dw_shop, suppliers, supplier_count, dw_supplier_object), MEANS("who sells, and what delivery costs"),
     EXAMPLE("[{\"name\": \"Harbor Lumber\", \"delivery\": \"35.00\"}]")},
};
const struct dw_object dw_shop_object = {OBJECT("shop", dw_shop, shop_keys, "a shop: its materials, slides, tools and habits")};
