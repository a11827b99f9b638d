/* keys_case.c - the keys of a job: cases, banks, drawers, and how their fronts and boxes are made. */
#include <drawerwright/keys.h>

#include "rows.h"

static const char COMMON[] = "common practice, no source";

const struct dw_word dw_fit_words[] = {
    {"inset", DW_INSET},
    {"overlay", DW_OVERLAY},
    {"full overlay", DW_FULL_OVERLAY},
    {"half overlay", DW_HALF_OVERLAY},
    {"lipped", DW_LIPPED},
    {NULL, 0},
};
const struct dw_word dw_joint_words[] = {
    {"butt", DW_BUTT},
    {"rabbet", DW_RABBET},
    {"dado", DW_DADO},
    {"rabbet-and-dado", DW_RABBET_AND_DADO},
    {"lock rabbet", DW_LOCK_RABBET},
    {"finger", DW_FINGER},
    {"half-blind dovetail", DW_HALF_BLIND},
    {"through dovetail", DW_THROUGH},
    {"miter", DW_MITER},
    {NULL, 0},
};
const struct dw_word dw_bottom_words[] = {
    {"grooved", DW_BOTTOM_GROOVED},
    {"slid in", DW_BOTTOM_SLID_IN},
    {"rabbeted", DW_BOTTOM_RABBETED},
    {"applied", DW_BOTTOM_APPLIED},
    {NULL, 0},
};
static const struct dw_word unit_words[] = {{"in", DW_IN}, {"mm", DW_MILLIMETER}, {NULL, 0}};
static const struct dw_word front_kind_words[] = {{"applied", DW_FRONT_APPLIED}, {"box front", DW_FRONT_IS_BOX_FRONT}, {NULL, 0}};
static const struct dw_word front_grain_words[] = {{"horizontal", DW_GRAIN_HORIZONTAL}, {"vertical", DW_GRAIN_VERTICAL}, {NULL, 0}};
static const struct dw_word height_words[] = {{"graduated", DW_HEIGHT_GRADUATED}, {NULL, 0}};
static const struct dw_word fill_words[] = {
    {"drawer", DW_FILL_DRAWER}, {"door", DW_FILL_DOOR}, {"open", DW_FILL_OPEN}, {"panel", DW_FILL_PANEL}, {NULL, 0}};
static const struct dw_word rail_words[] = {{"none", DW_RAIL_NONE}, {"real", DW_RAIL_REAL}, {"dummy", DW_RAIL_DUMMY}, {NULL, 0}};
static const struct dw_word graduation_words[] = {{"none", DW_GRADUATED_NOT}, {"divider", DW_GRADUATED_DIVIDER}, {NULL, 0}};
static const struct dw_word freed_words[] = {
    {"by habit", DW_FREED_BY_HABIT}, {"gaps", DW_FREED_GAPS}, {"ends", DW_FREED_ENDS}, {"bottom front", DW_FREED_BOTTOM_FRONT}, {NULL, 0}};
static const struct dw_word style_words[] = {{"frameless", DW_FRAMELESS}, {"face frame", DW_FACE_FRAME}, {NULL, 0}};
static const struct dw_word alike_words[] = {
    {"job", DW_ALIKE_JOB}, {"bank", DW_ALIKE_BANK}, {"drawer", DW_ALIKE_DRAWER}, {NULL, 0}};
static const struct dw_word beside_words[] = {
    {"open", DW_BESIDE_OPEN}, {"wall", DW_BESIDE_WALL}, {"neighbor", DW_BESIDE_NEIGHBOR}, {NULL, 0}};
static const struct dw_word grain_words[] = {{"along", DW_ALONG}, {"across", DW_ACROSS}, {"free", DW_FREE}, {NULL, 0}};

/* ---- fit, front, box -------------------------------------------------------------------------------------- */

#define EDGE_LENGTH(name, edge) \
    .key = name, .kind = DW_KEY_LENGTH, .offset = (edge) * sizeof(dw_length), .size = sizeof(dw_length), .least = 0, .most = PART_MOST
#define EDGE_BANDING(name, edge) .key = name, .kind = DW_KEY_BANDING, .offset = (edge) * sizeof(size_t), .size = sizeof(size_t)

static const struct dw_key overlay_keys[] = {
    {EDGE_LENGTH("top", DW_TOP), MEANS("over the upper edge of the opening or rail"), EXAMPLE("\"3/8\"")},
    {EDGE_LENGTH("bottom", DW_BOTTOM), MEANS("over the lower edge"), EXAMPLE("\"3/8\"")},
    {EDGE_LENGTH("left", DW_LEFT), MEANS("over the left edge"), EXAMPLE("\"1/2\"")},
    {EDGE_LENGTH("right", DW_RIGHT), MEANS("over the right edge"), EXAMPLE("\"1/2\"")},
};
static const struct dw_object overlay_object = {.name = "overlay",
                                                .size = DW_EDGES * sizeof(dw_length),
                                                .keys = overlay_keys,
                                                .count = ROW_COUNT(overlay_keys),
                                                .meaning = "how far a front covers the case on each side; one length for all four",
                                                .one_for_all = true};

static const struct dw_key fit_keys[] = {
    {WORD("kind", dw_fit, kind, dw_fit_words), BY_RULE("the case's; there: inset in a face frame, else full overlay"),
     MEANS("how the front meets the case"), EXAMPLE("\"inset\"")},
    {WITHIN("overlay", dw_fit, overlay, overlay_object), BY_RULE("1/2 in (13 mm) for overlay, 3/8 in (10 mm) for lipped"),
     MEANS("how far the front covers the case on each side"), SOURCE(COMMON), EXAMPLE("\"1/2\""), .implies = "kind",
     .implied_value = DW_OVERLAY},
    {LENGTH("lip", dw_fit, lip, 1, STOCK_MOST), BY_RULE("half the front's thickness"),
     MEANS("lipped: thickness left outside the opening"), SOURCE(COMMON), EXAMPLE("\"3/8\"")},
    {LENGTH("leeway", dw_fit, leeway, 0, SMALL_MOST), BY_RULE("off; with --leeway by the shop's habits"),
     MEANS("overlay and lipped: each side may cover so much less, in steps of front_step, where that saves a sheet"), EXAMPLE("\"1/16\"")},
};
const struct dw_object dw_fit_object = {OBJECT("fit", dw_fit, fit_keys, "how a front meets the case"), .bare = {"kind"}};

static const struct dw_key band_edge_keys[] = {
    {EDGE_BANDING("top", DW_TOP), MEANS("on the upper edge, as the front hangs"), EXAMPLE("\"birch edge\"")},
    {EDGE_BANDING("bottom", DW_BOTTOM), MEANS("on the lower edge"), EXAMPLE("\"birch edge\"")},
    {EDGE_BANDING("left", DW_LEFT), MEANS("on the left end"), EXAMPLE("\"birch edge\"")},
    {EDGE_BANDING("right", DW_RIGHT), MEANS("on the right end"), EXAMPLE("\"birch edge\"")},
};
static const struct dw_object band_edges_object = {.name = "banded edges",
                                                   .size = DW_EDGES * sizeof(size_t),
                                                   .keys = band_edge_keys,
                                                   .count = ROW_COUNT(band_edge_keys),
                                                   .meaning = "which banding goes on which edge; one for all four",
                                                   .one_for_all = true};

static const struct dw_key front_keys[] = {
    {WORD("kind", dw_front, kind, front_kind_words), BY_RULE("the case's; there: applied"),
     MEANS("a front applied over a box front, or the box front itself"), EXAMPLE("\"applied\"")},
    {REFERENCE("material", DW_KEY_MATERIAL, dw_front, material), BY_RULE("the case's; there: the case's own material"),
     MEANS("what it is cut from"), EXAMPLE("\"oak 3/4\"")},
    {WORD("grain", dw_front, grain, front_grain_words), BY_RULE("the case's; there: horizontal"), MEANS("which way its grain runs"),
     SOURCE("ANSI/AWI 0641-2019 3.4 allows both"), EXAMPLE("\"vertical\"")},
    {YES_NO("matched", dw_front, matched, "false"), MEANS("the bank's fronts are cut in order from one strip"), EXAMPLE("true")},
    {TEXT("match_group", dw_front, match_group), BY_RULE("the bank alone"), MEANS("banks of one group are matched across"),
     EXAMPLE("\"row\"")},
    {LENGTH("oversize", dw_front, oversize, 0, STOCK_MOST), DEFAULT("0", "0"), MEANS("added to length and width for trimming to fit"),
     EXAMPLE("\"1/16\"")},
    {WITHIN("banding", dw_front, banding, band_edges_object), BY_RULE("none"), MEANS("what covers its edges"), EXAMPLE("\"birch edge\"")},
    {YES_NO("banding_after", dw_front, banding_after, "true"),
     MEANS("banded after sizing: cut smaller by the banding; false: banded oversize and trimmed"), EXAMPLE("false")},
};
const struct dw_object dw_front_object = {OBJECT("front", dw_front, front_keys, "how drawer fronts are made")};

static const struct dw_key corner_keys[] = {
    {WORD("joint", dw_corner, joint, dw_joint_words), BY_RULE("rabbet-and-dado"), MEANS("how the corners are made"), EXAMPLE("\"finger\"")},
    {YES_NO("cross_outside", dw_corner, cross_outside, "false"),
     MEANS("butt and rabbet: front or back runs the full width and the sides stop against it"), EXAMPLE("true")},
    {LENGTH("depth", dw_corner, depth, 1, STOCK_MOST), BY_RULE("half the thickness that is cut"), MEANS("of the rabbet, dado or slot"),
     EXAMPLE("\"1/4\"")},
    {LENGTH("tongue", dw_corner, tongue, 1, STOCK_MOST), BY_RULE("by the joint"), MEANS("thickness of the tongue, width of its dado"),
     EXAMPLE("\"1/4\"")},
    {LENGTH("lap", dw_corner, lap, 0, STOCK_MOST), BY_RULE("by the joint"),
     MEANS("half-blind: wood left before the tails; lock rabbet: the lip; dado: from the side's end to the dado"),
     SOURCE("Fine Woodworking, Building Furniture, 2007: 3/16 in in a 3/4 front; Woodsmith: 1/4 in lip"), EXAMPLE("\"3/16\"")},
    {LENGTH("pitch", dw_corner, pitch, 1, PART_MOST), BY_RULE("by the joint"), MEANS("width of a finger as the cutter makes it; tails center to center"),
     EXAMPLE("\"1/2\"")},
    {COUNT("slope", dw_corner, slope, 2, 20), DEFAULT("8", "8"), MEANS("dovetails slope 1 in so much"),
     SOURCE("usual advice: 1:8 in hardwood, 1:6 in softwood"), EXAMPLE("6")},
    {YES_NO("fastened", dw_corner, through_ends, "false"), MEANS("screws or dowels through the joint are noted"), EXAMPLE("true")},
};
const struct dw_object dw_corner_object = {OBJECT("corner", dw_corner, corner_keys, "how the corners at one end of a box are made"),
                                           .bare = {"joint"}};

static const struct dw_key box_leeway_keys[] = {
    {LENGTH("lower", dw_box_leeway, lower, 0, PART_MOST), BY_RULE("off; with --leeway by the shop's habits"),
     MEANS("the box may be so much lower than by rule; 0: not at all"), EXAMPLE("\"1/2\"")},
    {LENGTH("step", dw_box_leeway, step, 1, PART_MOST), BY_RULE("the shop's front_step"), MEANS("heights in multiples of this"), EXAMPLE("\"1/16\"")},
    {COUNT("shorter", dw_box_leeway, shorter, 0, 10), BY_RULE("off; with --leeway by the shop's habits"),
     MEANS("the slide may be so many lengths shorter; 0: not at all"), EXAMPLE("1")},
    {LENGTH("groove_higher", dw_box_leeway, groove_higher, 0, SMALL_MOST), BY_RULE("off; with --leeway by the shop's habits"),
     MEANS("a bottom that is slid in may be so much higher, so that the back is lower; 0: not at all"), EXAMPLE("\"1/8\"")},
    {WORD("alike", dw_box_leeway, alike, alike_words), BY_RULE("the case's; there: job"),
     MEANS("boxes of one size stay alike over the whole job, or in each bank, or each drawer goes by itself"), EXAMPLE("\"bank\"")},
};
static const struct dw_object box_leeway_object = {
    OBJECT("box leeway", dw_box_leeway, box_leeway_keys, "how far the sizes of a box may give to save a sheet")};

static const struct dw_key box_keys[] = {
    {REFERENCE("sides", DW_KEY_MATERIAL, dw_box, side_material), BY_RULE("the case's; one must be named"), MEANS("material of the sides"),
     EXAMPLE("\"birch 1/2\"")},
    {REFERENCE("front", DW_KEY_MATERIAL, dw_box, front_material), BY_RULE("that of the sides"), MEANS("material of the box front"),
     EXAMPLE("\"birch 1/2\"")},
    {REFERENCE("back", DW_KEY_MATERIAL, dw_box, back_material), BY_RULE("that of the sides"), MEANS("material of the back"),
     EXAMPLE("\"birch 1/2\"")},
    {REFERENCE("bottom", DW_KEY_MATERIAL, dw_box, bottom_material), BY_RULE("the case's; one must be named"),
     MEANS("material of the bottom"), EXAMPLE("\"birch 1/4\"")},
    {YES_NO("one_batch", dw_box, one_batch, "false"), MEANS("what of the box is of one material comes from one batch of it"), EXAMPLE("true")},
    {WITHIN("joint", dw_box, front, dw_corner_object),
     BY_RULE("the case's; there: rabbet-and-dado, and for a front that is the box front a fastened rabbet with cross_outside"), MEANS("corners at the front"),
     EXAMPLE("\"half-blind dovetail\"")},
    {WITHIN("back_joint", dw_box, back, dw_corner_object), BY_RULE("as at the front; where no joint is named rabbet-and-dado"), MEANS("corners at the back"), EXAMPLE("\"dado\"")},
    {WORD("bottom_style", dw_box, bottom, dw_bottom_words), BY_RULE("the case's; there: grooved"),
     MEANS("how the bottom is held: in a groove on four sides, slid in under a short back, in a rabbet, applied underneath"),
     EXAMPLE("\"slid in\"")},
    {LENGTH("groove_depth", dw_box, groove_depth, 1, STOCK_MOST), BY_RULE("the shop's"), MEANS("of the bottom's groove or rabbet"),
     EXAMPLE("\"1/4\"")},
    {LENGTH("groove_up", dw_box, groove_up, 0, PART_MOST), BY_RULE("the slide's recess, or the shop's habit"),
     MEANS("the groove's lower edge above the lower edge of the side"), EXAMPLE("\"3/8\"")},
    {LENGTH("bottom_clearance", dw_box, bottom_clearance, 0, SMALL_MOST), BY_RULE("the shop's"),
     MEANS("taken off the bottom in each direction, in all"), EXAMPLE("0")},
    {LENGTH("height", dw_box, height, 10 * DW_MM, PART_MOST), BY_RULE("from opening and front"), MEANS("wished outside height"),
     EXAMPLE("\"4 1/2\"")},
    {LENGTH("height_least", dw_box, height_least, 0, PART_MOST), BY_RULE("none but the slide's"), MEANS("least outside height"),
     EXAMPLE("\"2\"")},
    {LENGTH("height_most", dw_box, height_most, 10 * DW_MM, PART_MOST), BY_RULE("none"), MEANS("greatest outside height"),
     EXAMPLE("\"8\"")},
    {LENGTH("depth", dw_box, depth, 10 * DW_MM, 3000 * DW_MM), BY_RULE("the slide's length"), MEANS("wished outside depth"),
     EXAMPLE("\"16\"")},
    {LENGTH("slide_length", dw_box, slide_length, 50 * DW_MM, 2000 * DW_MM), BY_RULE("the longest that fits"),
     MEANS("wished length of the slide"), EXAMPLE("\"16\"")},
    {WITHIN("leeway", dw_box, leeway, box_leeway_object), BY_RULE("off; with --leeway by the shop's habits"),
     MEANS("how far its sizes may give where that saves a sheet"), EXAMPLE("{\"lower\": \"1/2\"}")},
};
const struct dw_object dw_box_object = {OBJECT("box", dw_box, box_keys, "how drawer boxes are made")};

/* ---- drawers and banks ------------------------------------------------------------------------------------ */

static const struct dw_key height_keys[] = {
    {WORD("rule", dw_height, rule, height_words), BY_RULE("graduated in a bank that has a graduation, else one share"), MEANS("by the bank's graduation"),
     EXAMPLE("\"graduated\"")},
    {LENGTH("front", dw_height, length, 10 * DW_MM, CASE_MOST), MEANS("this front height"), EXAMPLE("\"5 3/4\""), .implies = "rule",
     .implied_value = DW_HEIGHT_FIXED},
    {COUNT("share", dw_height, weight, 1, 1000), BY_RULE("1"), MEANS("so many shares of what the others leave"), EXAMPLE("2"),
     .implies = "rule", .implied_value = DW_HEIGHT_SHARE},
    {LENGTH("inside", dw_height, length, 10 * DW_MM, CASE_MOST), MEANS("whatever front gives at least this clear height inside the box"),
     EXAMPLE("\"9\""), .implies = "rule", .implied_value = DW_HEIGHT_INSIDE},
    {COUNT("system_32", dw_height, modules, 1, 200), MEANS("32 mm times this, less a gap"),
     SOURCE("32 mm system: front = 32 m - gap"), EXAMPLE("7"), .implies = "rule", .implied_value = DW_HEIGHT_SYSTEM_32},
};
const struct dw_object dw_height_object = {OBJECT("height", dw_height, height_keys, "how high a front is"), .bare = {"rule", "front"}};

static const struct dw_key rail_keys[] = {
    {WORD("kind", dw_rail, kind, rail_words), BY_RULE("real when a height is given, else none"),
     MEANS("a real rail, or a dummy one that divides fronts but not the space behind"), EXAMPLE("\"dummy\"")},
    {LENGTH("height", dw_rail, height, 0, PART_MOST), BY_RULE("3/4 in (19 mm) where there is one"), MEANS("of the rail"), SOURCE(COMMON), EXAMPLE("\"3/4\""),
     .implies = "kind", .implied_value = DW_RAIL_REAL},
    {LENGTH("cover_above", dw_rail, cover_above, 0, PART_MOST), BY_RULE("by the fit"), MEANS("the front over the rail covers so much of it"),
     EXAMPLE("\"1/4\"")},
    {LENGTH("cover_below", dw_rail, cover_below, 0, PART_MOST), BY_RULE("by the fit"), MEANS("the front under the rail covers so much of it"),
     EXAMPLE("\"1/4\"")},
};
const struct dw_object dw_rail_object = {OBJECT("rail", dw_rail, rail_keys, "a horizontal member between two drawers"), .bare = {"kind", "height"}};

static const struct dw_key drawer_keys[] = {
    {TEXT("name", dw_drawer, name), BY_RULE("its number from the top"), MEANS("one of its kind in the bank"), EXAMPLE("\"cutlery\"")},
    {WORD("fill", dw_drawer, fill, fill_words), DEFAULT("drawer", "drawer"), MEANS("a door, an open space or a panel may stand in the stack"),
     EXAMPLE("\"door\"")},
    {WITHIN("height", dw_drawer, height, dw_height_object), BY_RULE("by the bank's graduation, or one share"), MEANS("height of its front"), EXAMPLE("\"5 3/4\"")},
    {WITHIN("fit", dw_drawer, fit, dw_fit_object), BY_RULE("the case's"), MEANS("how its front meets the case"), EXAMPLE("{\"overlay\": \"3/8\"}")},
    {WITHIN("rail_below", dw_drawer, rail_below, dw_rail_object), BY_RULE("the bank's"), MEANS("between it and the next lower one"),
     EXAMPLE("\"3/4\"")},
    {REFERENCE("slide", DW_KEY_SLIDE, dw_drawer, slide), BY_RULE("the case's"), MEANS("what it runs on"), EXAMPLE("\"side 100\"")},
    {WITHIN("box", dw_drawer, box, dw_box_object), BY_RULE("the case's"), MEANS("how its box is made"), EXAMPLE("{\"joint\": \"finger\"}")},
    {WITHIN("front", dw_drawer, front, dw_front_object), BY_RULE("the case's"), MEANS("how its front is made"),
     EXAMPLE("{\"material\": \"oak 3/4\"}")},
    {.key = "load", .kind = DW_KEY_MASS, PLACE(dw_drawer, load), .least = 0, .most = 1000000000, BY_RULE("by area and the shop's load"),
     MEANS("load expected in it"), EXAMPLE("\"40 lb\"")},
    {TEXT("holds", dw_drawer, holds), DEFAULT("", ""), MEANS("what goes inside, for people"), EXAMPLE("\"folded maps\"")},
};
const struct dw_object dw_drawer_object = {OBJECT("drawer", dw_drawer, drawer_keys, "one drawer, or what stands in its place"),
                                           .bare_count = "so many drawers alike, sharing evenly"};

static const struct dw_key graduation_keys[] = {
    {WORD("kind", dw_bank, graduation, graduation_words), BY_RULE("none"), MEANS("divider: each front is a rail's height taller than the one above it"),
     SOURCE("Popular Woodworking no. 176, June 2009: step = divider thickness"), EXAMPLE("\"divider\"")},
    {LENGTH("step", dw_bank, graduation_step, 1, PART_MOST), MEANS("each front is so much taller than the one above it"), EXAMPLE("\"1\""),
     .implies = "kind", .implied_value = DW_GRADUATED_STEP},
    {PERCENT("ratio", dw_bank, graduation_ratio, 1000001, 4000000), MEANS("each front is so many percent of the one above it"),
     SOURCE("Fine Woodworking, 15 Jan 2020: 120 %"), EXAMPLE("\"120 %\""), .implies = "kind", .implied_value = DW_GRADUATED_RATIO},
};
static const struct dw_object graduation_object = {OBJECT("graduation", dw_bank, graduation_keys, "how graduated fronts grow"), .bare = {"kind"}};

static const struct dw_key freed_keys[] = {
    {WORD("kind", dw_bank, freed, freed_words), BY_RULE("by habit: the gaps while each grows by gap_grow at most, then for overlay the ends, for inset the bottom front"),
     MEANS("where it goes"), EXAMPLE("\"gaps\"")},
    {COUNT("drawer", dw_bank, freed_drawer, 1, 1000), .less = 1, DEFAULT("1", "1"), MEANS("into this drawer, counted from 1 at the top"), EXAMPLE("2"), .implies = "kind",
     .implied_value = DW_FREED_DRAWER},
};
static const struct dw_object freed_object = {OBJECT("freed", dw_bank, freed_keys, "where to put what rounding frees"), .bare = {"kind"}};

static const struct dw_key bank_keys[] = {
    {TEXT("name", dw_bank, name), BY_RULE("its number from the left"), MEANS("one of its kind in the case"), EXAMPLE("\"left\"")},
    {READINGS("width", dw_bank, width, 20 * DW_MM, CASE_MOST), BY_RULE("a share of the case's"), MEANS("width of its opening, as drawn or as measured (the least counts)"),
     EXAMPLE("[\"15 1/16\", \"15\", \"14 15/16\"]")},
    {READINGS("height", dw_bank, height, 20 * DW_MM, CASE_MOST), BY_RULE("the case's"), MEANS("height of its opening"), EXAMPLE("\"24 1/2\"")},
    {READINGS("depth", dw_bank, depth, 20 * DW_MM, CASE_MOST), BY_RULE("the case's"), MEANS("depth from the face to the back"), EXAMPLE("\"22\"")},
    {READINGS("diagonals", dw_bank, diagonals, 20 * DW_MM, 2 * CASE_MOST), BY_RULE("the case's"), MEANS("both diagonals"), EXAMPLE("[\"31 1/4\", \"31 1/2\"]")},
    {COUNT("share", dw_bank, width_share, 1, 1000), DEFAULT("1", "1"), MEANS("so many shares of the width that the others leave"), EXAMPLE("2")},
    {WITHIN("rail", dw_bank, rail, dw_rail_object), BY_RULE("none"), MEANS("between all its drawers unless a drawer says otherwise"),
     EXAMPLE("\"3/4\"")},
    {SAME("graduation", graduation_object), BY_RULE("none"), MEANS("how graduated fronts grow downward"), EXAMPLE("{\"step\": 1}")},
    {LENGTH("gap", dw_bank, gap, 0, SMALL_MOST), BY_RULE("the shop's"), MEANS("between fronts, and round inset ones"), EXAMPLE("\"3/32\"")},
    {LENGTH("gap_ends", dw_bank, gap_ends, 0, SMALL_MOST), BY_RULE("the gap"), MEANS("of an inset front to the members above and below the bank"),
     EXAMPLE("\"1/16\"")},
    {LENGTH("gap_sides", dw_bank, gap_sides, 0, SMALL_MOST), BY_RULE("the gap"), MEANS("of an inset front to the members beside it"),
     EXAMPLE("\"1/16\"")},
    {SAME("freed", freed_object), BY_RULE("by habit"), MEANS("where to put what rounding frees"), EXAMPLE("\"ends\"")},
    {LENGTH("leeway", dw_bank, leeway, 0, SMALL_MOST), BY_RULE("off; with --leeway by the shop's habits"),
     MEANS("a front may be so much lower and another as much higher, in steps of front_step, where that saves a sheet"), EXAMPLE("\"1/8\"")},
    {LIST("drawers", dw_bank, drawers, drawer_count, dw_drawer_object), MEANS("from the top down; a bare number means so many equal ones"),
     EXAMPLE("[{\"height\": \"4\"}, {}, {}]"), .required = true},
};
const struct dw_object dw_bank_object = {OBJECT("bank", dw_bank, bank_keys, "a vertical run of drawers in one opening")};

/* ---- cases ------------------------------------------------------------------------------------------------ */

static const struct dw_key outside_keys[] = {
    {LENGTH("width", dw_case, width, 50 * DW_MM, CASE_MOST), MEANS("outside, left to right"), EXAMPLE("\"30\"")},
    {LENGTH("height", dw_case, height, 50 * DW_MM, CASE_MOST), MEANS("outside, floor to top"), EXAMPLE("\"34 1/2\"")},
    {LENGTH("depth", dw_case, depth, 50 * DW_MM, CASE_MOST), MEANS("outside, face to back; a face frame counts"), EXAMPLE("\"24\"")},
};
static const struct dw_object outside_object = {OBJECT("outside", dw_case, outside_keys, "the outside sizes of a case")};

static const struct dw_key member_keys[] = {
    {REFERENCE("material", DW_KEY_MATERIAL, dw_case, case_material), BY_RULE("none: sizes only"), MEANS("of the case's members"),
     EXAMPLE("\"birch 3/4\"")},
    {LENGTH("side", dw_case, side, 0, STOCK_MOST), BY_RULE("the material's thickness, or 3/4 in (18 mm)"), MEANS("thickness of the sides"),
     SOURCE(COMMON), EXAMPLE("\"23/32\"")},
    {LENGTH("top", dw_case, top, 0, STOCK_MOST), BY_RULE("as the sides"), MEANS("thickness of the top"), EXAMPLE("\"23/32\"")},
    {LENGTH("bottom", dw_case, bottom, 0, STOCK_MOST), BY_RULE("as the sides"), MEANS("thickness of the bottom"), EXAMPLE("\"23/32\"")},
    {REFERENCE("back_material", DW_KEY_MATERIAL, dw_case, back_material), BY_RULE("none"), MEANS("of the back"), EXAMPLE("\"birch 1/4\"")},
    {LENGTH("back", dw_case, back, 0, STOCK_MOST), BY_RULE("the back material's thickness, or 1/4 in (6 mm)"), MEANS("thickness of the back; 0: none"),
     SOURCE(COMMON), EXAMPLE("\"1/4\"")},
    {LENGTH("kick", dw_case, kick, 0, PART_MOST), DEFAULT("0", "0"), MEANS("free height beneath the bottom; in a face frame beneath its bottom rail, whose upper edge the bottom is flush with"),
     EXAMPLE("\"4\"")},
    {LENGTH("stile", dw_case, stile, 0, PART_MOST), BY_RULE("1 1/2 in (38 mm); frameless 0"), MEANS("width of the stiles"),
     SOURCE("1-1/2 in, common practice"), EXAMPLE("\"1 1/2\"")},
    {LENGTH("rail_top", dw_case, rail_top, 0, PART_MOST), BY_RULE("as the stiles"), MEANS("width of the top rail"), EXAMPLE("\"1 1/2\"")},
    {LENGTH("rail_bottom", dw_case, rail_bottom, 0, PART_MOST), BY_RULE("as the stiles"), MEANS("width of the bottom rail"),
     EXAMPLE("\"1 1/2\"")},
    {REFERENCE("frame_material", DW_KEY_MATERIAL, dw_case, frame_material), BY_RULE("none: sizes only"), MEANS("of the face frame"), EXAMPLE("\"oak 3/4\"")},
    {LENGTH("frame_thickness", dw_case, frame_thickness, 0, STOCK_MOST), BY_RULE("its material's, or 3/4 in (20 mm); frameless 0"),
     MEANS("thickness of the face frame"), SOURCE("architectural standards of 2009: at least 3/4 in"), EXAMPLE("\"3/4\"")},
    {LENGTH("partition_behind", dw_case, partition_behind, 0, STOCK_MOST), BY_RULE("as the sides; frameless 0"),
     MEANS("thickness of the partition behind a stile between banks; 0: none"), EXAMPLE("\"3/4\"")},
    {YES_NO("parts", dw_case, derive_parts, "false"), MEANS("list the case's own parts too"), EXAMPLE("true")},
    {LENGTH("stretcher", dw_case, stretcher, 0, PART_MOST), DEFAULT("0", "0"),
     MEANS("width of the two stretchers that stand for a full top; 0: a full top"), EXAMPLE("\"4\"")},
    {REFERENCE("edging", DW_KEY_BANDING, dw_case, edging), BY_RULE("none"),
     MEANS("banding on the case's front edges; its parts are cut less it"), EXAMPLE("\"birch edge\"")},
    {YES_NO("edging_round", dw_case, edging_round, "false"), MEANS("on the rear edges and the ends of the sides too"), EXAMPLE("true")},
};
static const struct dw_object members_object = {OBJECT("members", dw_case, member_keys, "the members of a case")};

static const struct dw_key opening_keys[] = {
    {READINGS("width", dw_case, opening_width, 20 * DW_MM, CASE_MOST), MEANS("as drawn, or measured at several heights (the least counts)"),
     EXAMPLE("[\"15 1/16\", \"15\", \"14 15/16\"]")},
    {READINGS("height", dw_case, opening_height, 20 * DW_MM, CASE_MOST), MEANS("as drawn, or measured at several places"), EXAMPLE("\"24 1/2\"")},
    {READINGS("depth", dw_case, opening_depth, 20 * DW_MM, CASE_MOST), MEANS("from the face of case or frame to the back"), EXAMPLE("\"22\"")},
    {READINGS("diagonals", dw_case, opening_diagonals, 20 * DW_MM, 2 * CASE_MOST), BY_RULE("square"), MEANS("both diagonals"),
     EXAMPLE("[\"31 1/4\", \"31 1/2\"]")},
    {LENGTH("floor", dw_case, floor, 0, CASE_MOST), BY_RULE("by the members"), MEANS("its underside above the floor"), EXAMPLE("\"4 3/4\"")},
};
static const struct dw_object opening_object = {OBJECT("opening", dw_case, opening_keys, "the clear space that the drawers of a case go into")};

static const struct dw_key beside_keys[] = {
    {WORD("left", dw_case, left, beside_words), DEFAULT("open", "open"), MEANS("what stands on its left"), EXAMPLE("\"wall\"")},
    {WORD("right", dw_case, right, beside_words), DEFAULT("open", "open"), MEANS("what stands on its right"), EXAMPLE("\"neighbor\"")},
};
static const struct dw_object beside_object = {OBJECT("beside", dw_case, beside_keys, "what stands beside a case")};

static const struct dw_key case_keys[] = {
    {TEXT("name", dw_case, name), BY_RULE("case and its number"), MEANS("one of its kind in the job"), EXAMPLE("\"Plan chest\"")},
    {COUNT("count", dw_case, count, 1, 1000), DEFAULT("1", "1"), MEANS("how many alike"), EXAMPLE("2")},
    {WORD("style", dw_case, style, style_words), DEFAULT("frameless", "frameless"), MEANS("of its build"), EXAMPLE("\"face frame\"")},
    {SAME("outside", outside_object), MEANS("its outside sizes; openings follow from its members"),
     EXAMPLE("{\"width\": 30, \"height\": \"34 1/2\", \"depth\": 24}")},
    {SAME("opening", opening_object), MEANS("or its opening, as drawn or as measured; beside the outside: as it was measured when the case stood, which counts from then on"), EXAMPLE("{\"width\": 15, \"height\": \"24 1/2\", \"depth\": 22}")},
    {SAME("members", members_object), MEANS("the members round its opening"), EXAMPLE("{\"side\": \"23/32\"}")},
    {LENGTH("partition", dw_case, partition, 0, PART_MOST), BY_RULE("frameless: as the sides; face frame: as the stiles"),
     MEANS("width of what stands between two banks"), EXAMPLE("\"3/4\"")},
    {SAME("beside", beside_object), MEANS("what stands on its left and right"), EXAMPLE("{\"left\": \"wall\"}")},
    {YES_NO("free_standing", dw_case, free_standing, "true"), MEANS("not fixed to the building"), EXAMPLE("false")},
    {YES_NO("clothing", dw_case, clothing, "false"), MEANS("a clothing storage unit"), EXAMPLE("true")},
    {YES_NO("behind_doors", dw_case, behind_doors, "false"), MEANS("its drawers stand behind doors"), EXAMPLE("true")},
    {LENGTH("hinge_room", dw_case, hinge_room, 0, PART_MOST), BY_RULE("behind doors 3/4 in (19 mm), else 0"),
     MEANS("what hinges and doors take of the width on each side"), SOURCE("common practice, no source; read the hinge's data sheet"), EXAMPLE("\"3/4\"")},
    {WITHIN("fit", dw_case, fit, dw_fit_object), BY_RULE("inset in a face frame, else full overlay"), MEANS("for all its drawers unless told"),
     EXAMPLE("\"inset\"")},
    {REFERENCE("slide", DW_KEY_SLIDE, dw_case, slide), BY_RULE("the first of the shop"), MEANS("for all its drawers unless told"), EXAMPLE("\"side 100\"")},
    {WITHIN("box", dw_case, box, dw_box_object), MEANS("for all its drawers unless told"), EXAMPLE("{\"sides\": \"birch 1/2\", \"bottom\": \"birch 1/4\"}")},
    {WITHIN("front", dw_case, front, dw_front_object), MEANS("for all its drawers unless told"), EXAMPLE("{\"material\": \"oak 3/4\"}")},
    {LIST("banks", dw_case, banks, bank_count, dw_bank_object), MEANS("from the left"), EXAMPLE("[{\"drawers\": 4}]"), .required = true},
};
const struct dw_object dw_case_object = {OBJECT("case", dw_case, case_keys, "a carcass that holds drawers")};

/* ---- the job ---------------------------------------------------------------------------------------------- */

static const struct dw_key part_keys[] = {
    {TEXT("name", dw_extra, name), MEANS("of the part"), EXAMPLE("\"shelf\""), .required = true},
    {TEXT("group", dw_extra, group), DEFAULT("", ""), MEANS("case or use that it belongs to"), EXAMPLE("\"Plan chest\"")},
    {REFERENCE("material", DW_KEY_MATERIAL, dw_extra, material), MEANS("what it is cut from"), EXAMPLE("\"birch 3/4\""), .required = true},
    {LENGTH("length", dw_extra, length, 5 * DW_MM, CASE_MOST), MEANS("to cut"), EXAMPLE("\"28 1/2\""), .required = true},
    {LENGTH("width", dw_extra, width, 5 * DW_MM, CASE_MOST), MEANS("to cut"), EXAMPLE("\"11\""), .required = true},
    {COUNT("count", dw_extra, count, 1, 100000), DEFAULT("1", "1"), MEANS("how many"), EXAMPLE("2")},
    {WORD("grain", dw_extra, grain, grain_words), DEFAULT("along", "along"), MEANS("along its length, across it, or free"), EXAMPLE("\"free\"")},
    {WITHIN("banding", dw_extra, banding, band_edges_object), BY_RULE("none"), MEANS("what covers its edges (top and bottom: the long ones)"),
     EXAMPLE("{\"top\": \"birch edge\"}")},
};
const struct dw_object dw_extra_object = {OBJECT("part", dw_extra, part_keys, "a part listed by hand")};

static const struct dw_key spares_keys[] = {
    {COUNT("front", dw_spares, front, 0, 100), BY_RULE("spares_percent"), MEANS("fronts that are not matched, in percent, rounded up"), EXAMPLE("0")},
    {COUNT("side", dw_spares, side, 0, 100), BY_RULE("spares_percent"), MEANS("sides of boxes"), EXAMPLE("5")},
    {COUNT("box_front", dw_spares, box_front, 0, 100), BY_RULE("spares_percent"), MEANS("box fronts"), EXAMPLE("5")},
    {COUNT("back", dw_spares, back, 0, 100), BY_RULE("spares_percent"), MEANS("backs of boxes"), EXAMPLE("5")},
    {COUNT("bottom", dw_spares, bottom, 0, 100), BY_RULE("spares_percent"), MEANS("bottoms of boxes"), EXAMPLE("10")},
};
static const struct dw_object spares_object = {OBJECT("spares", dw_spares, spares_keys, "spare parts of each kind")};

static const struct dw_key job_keys[] = {
    {COUNT("format", dw_job, format, 1, 1), DEFAULT("1", "1"), MEANS("of this file; there is only one so far"), EXAMPLE("1")},
    {TEXT("name", dw_job, name), BY_RULE("the file's name"), MEANS("of the job"), EXAMPLE("\"Plan chest for the map room\"")},
    {WORD("units", dw_job, unit, unit_words), DEFAULT("in", "in"), MEANS("of bare numbers"), EXAMPLE("\"in\"")},
    {TEXT("note", dw_job, customer_note), DEFAULT("", ""), MEANS("printed on the packet"), EXAMPLE("\"deliver to the north door\"")},
    {TEXT("date", dw_job, date), DEFAULT("", ""), MEANS("printed as it is given; nothing is dated by the clock"), EXAMPLE("\"14 March\"")},
    {WITHIN("shop", dw_job, shop, dw_shop_object), MEANS("the shop, or the name of a file beside the job that holds it"), EXAMPLE("\"shop.json\""),
     .required = true},
    {LIST("cases", dw_job, cases, case_count, dw_case_object), MEANS("what holds drawers"), EXAMPLE("[{\"name\": \"Plan chest\"}]")},
    {LIST("parts", dw_job, extras, extra_count, dw_extra_object), MEANS("parts listed by hand, so that one plan serves the whole piece"),
     EXAMPLE("[{\"name\": \"shelf\", \"material\": \"birch 3/4\", \"length\": 28, \"width\": 11}]")},
    {COUNT("spares_percent", dw_job, spares_percent, 0, 100), DEFAULT("0", "0"), MEANS("spare parts of each kind and material, in percent, rounded up"),
     EXAMPLE("5")},
    {WITHIN("spares", dw_job, spares, spares_object), MEANS("kind by kind, where they differ"), EXAMPLE("{\"bottom\": 10, \"front\": 0}")},
};
const struct dw_object dw_job_object = {OBJECT("job", dw_job, job_keys, "one order of work")};
