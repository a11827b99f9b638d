/* job.h - what is asked: a shop, its materials and slides, and the cases that want drawers.
 *
 * Plain structs, filled by the files room (or by hand), then completed by dw_job_complete: every value that was
 * not given gets its default from one table, and what a case, bank or drawer does not say it takes from the one
 * above it. After that no field is unset, save those whose comment says it may be.
 *
 * "Not given" is DW_LENGTH_UNSET for lengths, DW_UNSET for other integers, NULL for strings, and the _GIVEN or
 * _INHERIT member (value 0) of an enumeration.
 */
#ifndef DRAWERWRIGHT_JOB_H
#define DRAWERWRIGHT_JOB_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <drawerwright/fault.h>
#include <drawerwright/length.h>
#include <drawerwright/money.h>

struct dw_arena;

#define DW_UNSET INT64_MIN
#define DW_NO_INDEX SIZE_MAX /* no material, no slide */
#define DW_NO_LIMIT (-1)     /* a count of sheets without limit */

typedef int64_t dw_mass;     /* milligrams */
typedef int64_t dw_pressure; /* pascals; loads on an area and moduli of elasticity */
typedef int64_t dw_ppm;      /* parts per million: rates and ratios */

/* A yes or no that a drawer may take from its case; once completed never DW_ASK_ABOVE, so that it may be asked like a bool. */
enum dw_answer { DW_ASK_ABOVE = -1, DW_NO = 0, DW_YES = 1 };

enum dw_edge { DW_TOP, DW_BOTTOM, DW_LEFT, DW_RIGHT, DW_EDGES }; /* of a front, as the drawer hangs */

/* ---- the shop ------------------------------------------------------------------------------------------- */

enum dw_material_kind { DW_PLYWOOD, DW_MDF, DW_PARTICLEBOARD, DW_MELAMINE, DW_HARDBOARD, DW_SOLID_WOOD };

/* Whether there is a grain to keep; once completed never DW_GRAIN_BY_KIND, so that it may be asked like a bool. */
enum dw_has_grain { DW_GRAIN_BY_KIND = -1, DW_PLAIN = 0, DW_GRAINED = 1 };

/* A price that falls with number: `price` each from `from` pieces on. */
struct dw_break {
    int64_t from;
    dw_money price;
};

/* A size in which a material is bought. */
struct dw_sheet_offer {
    const char *id;
    const char *supplier;   /* "" when none is named */
    dw_length length;       /* along x: the grain runs so unless grain_across */
    dw_length width;
    bool grain_across;      /* the grain runs along the width */
    dw_length trim[4];      /* off the ends x low, x high, and the edges y low, y high */
    dw_length allowance;    /* how much smaller than its size a sheet may come (PS 1: 1/16 in); 0: trusted to its size */
    dw_money price;
    const struct dw_break *breaks; /* rising by from */
    size_t break_count;
    int64_t count;          /* on hand or to be had; DW_NO_LIMIT */
};

/* Once parts are given to batches, a batch is a material of its own: its id is the material's, this, and the batch's. */
#define DW_BATCH_BETWEEN ", batch "

/* Sheets of a material that are alike in thickness: what came off one pile. */
struct dw_batch {
    const char *id;          /* one of its kind in the material */
    dw_length thickness;     /* as measured; sizes of what is cut from it come from this one */
    int64_t count;           /* sheets */
    const char *sheet;       /* id of the material's sheet that they are; after completion never NULL */
};

struct dw_material {
    const char *id;
    const char *name;        /* as on the shopping list */
    enum dw_material_kind kind;
    dw_length nominal;       /* as it is called */
    dw_length thickness;     /* as measured; all sizes come from this one */
    enum dw_has_grain grained; /* has a grain to keep; by kind: plywood and solid wood do */
    dw_pressure stiffness;   /* modulus of elasticity in bending; 0 when not known */
    int64_t density;         /* grams per cubic meter; 0 when not known */
    dw_ppm movement;         /* change of width per 1 % of moisture (solid wood); 0 when it does not move */
    const char *source;      /* where stiffness, density or movement come from; "" */
    dw_length kerf;          /* of the blade that cuts it */
    const struct dw_sheet_offer *sheets;
    size_t sheet_count;
    const struct dw_batch *batches; /* used before any other sheet, in this order */
    size_t batch_count;
    dw_length keep_length;   /* an offcut is worth keeping from this long ... */
    dw_length keep_width;    /* ... and this wide on */
};

enum dw_slide_kind { DW_SIDE_MOUNT, DW_UNDERMOUNT, DW_CENTER_MOUNT, DW_RUNNER, DW_HAND_FITTED };

struct dw_slide_length {
    dw_length length;
    dw_money price; /* a pair */
};

struct dw_slide {
    const char *id;
    const char *name;
    enum dw_slide_kind kind;
    dw_length clearance;       /* side space each side: box outside width = opening - 2 x clearance (side-mount, center, runner, hand-fitted) */
    dw_length clearance_more;  /* the slide still works with so much more in all ... */
    dw_length clearance_less;  /* ... or less in all */
    dw_length inside_less;     /* undermount: box inside width = opening - this (42 mm) */
    dw_length side_most;       /* undermount: thickest box side */
    dw_length notch;           /* undermount: width of the notch in each lower corner of the back; 0 when not known */
    dw_length recess;          /* undermount: underside of bottom above the lower edge of the sides */
    dw_length below;           /* least free height beneath the box */
    dw_length above;           /* least free height over the box */
    dw_length box_least;       /* least box height the slide needs */
    dw_length rear;            /* least free depth behind the box */
    dw_length set_back;        /* from the case's (or frame's) front edge to the slide, before any inset front */
    dw_length center;          /* center line above the lower edge of the box; DW_LENGTH_UNSET: half the box height */
    dw_length longer;          /* the slide itself is longer than its name by this much */
    dw_mass rating;            /* load a pair carries; 0 when not known */
    dw_length rating_width;    /* widest drawer the rating holds for; 0 when not known */
    const struct dw_slide_length *lengths; /* on offer, rising; none for hand-fitted */
    size_t length_count;
};

/* Where the wood is cut. (The ladder of cuts and its limits use it.) */
enum dw_saw_kind { DW_TABLE_SAW, DW_TRACK_SAW, DW_PANEL_SAW, DW_CIRCULAR_SAW /* makes rough cuts only */ };

struct dw_saw {
    const char *name;
    enum dw_saw_kind kind;
    dw_length kerf;
    dw_length rip_most;      /* greatest distance blade to fence; 0: no fence */
    dw_length crosscut_most; /* widest piece it crosscuts */
    dw_length cut_longest;   /* longest cut (track, panel); 0: no limit */
    dw_length width_least;   /* narrowest rip */
    dw_length edge_least;    /* shortest edge that may run against the fence */
};

/* Which sizes may give to save a sheet when that is asked for and a job says nothing of its own, and how much is worth a word at any time. */
struct dw_leeway_habits {
    bool box_heights;          /* down to what box_less_most allows: yes */
    bool slide_lengths;        /* one length shorter: yes */
    bool fronts;               /* a front lower and another of its bank higher by a step or two of fronts: no */
    bool overlays;             /* less on every side by a step of fronts: no */
    bool grooves;              /* bottoms slid in set higher by two steps of fronts: no */
    dw_length near;            /* a plan says when so small a change would save a sheet: 1/8 in; 0: it says nothing */
};

/* What the shop does unless told otherwise. Every one has a default (docs and `check` list them). */
struct dw_habits {
    dw_length gap;             /* between fronts, and round an inset one: 1/8 in */
    dw_length reveal;          /* full overlay: left showing at an exposed outside edge: 1/8 in ("takes 1/8 off each outside edge") */
    dw_length reveal_wall;     /* ... at a wall */
    dw_length reveal_neighbor; /* ... beside another case: half a gap */
    dw_length front_step;      /* fronts are rounded down to this: 1/16 in, 1 mm */
    dw_length box_step;        /* boxes likewise: 1/32 in, 0.5 mm */
    dw_length box_aim;         /* box width aimed so much under the slide's rule: 0 (1/32 in when asked) */
    dw_length gap_grow;        /* rounding may widen each gap by so much before the rest goes elsewhere: 1/32 in */
    dw_length gap_warn;        /* warn when a gap strays from the wish by more */
    dw_length box_less;        /* wished difference of front (or space) and box height: 1 1/4 in */
    dw_length box_less_least;  /* 1 in */
    dw_length box_less_most;   /* 2 in */
    dw_length box_height_step; /* box heights rounded down to this: 1/4 in, 5 mm */
    dw_length kerf;            /* 1/8 in */
    dw_length trim;            /* off each factory edge: 1/4 in */
    dw_length keep_length;     /* offcuts worth keeping */
    dw_length keep_width;
    dw_length groove_depth;    /* DW_LENGTH_UNSET: half the side */
    dw_length groove_up;       /* bottom groove above the lower edge */
    dw_length bottom_clearance; /* in all, each direction: 1/32 in */
    dw_pressure load;          /* on a drawer bottom, a square foot: 15 lb/ft2 (KCMA A161.1) */
    dw_mass lift_most;         /* a heavier sheet is first broken down roughly, or else cautioned about: 23 kg, 51 lb; 0: likewise */
    dw_length handle_length;   /* largest panel that the shop handles at the saw; a larger sheet is first broken down; 0: no limit */
    dw_length handle_width;
    dw_length rough_over;      /* a rough piece is larger than wanted by so much at each rough edge: 1/4 in; 0: no sheet is broken down roughly */
    dw_length van_length;      /* largest piece that fits the van: the yard cuts larger sheets roughly; 0: no limit */
    dw_length van_width;
    int64_t moisture_percent;  /* seasonal change of moisture for solid fronts: 4 */
    struct dw_leeway_habits leeway;
};

/* Rules for what is bought beside sheets and slides, and for labor. */
struct dw_prices {
    struct dw_currency currency;
    dw_ppm tax;               /* on what is bought; 0 */
    dw_ppm waste;             /* allowance on sheets consumed; 0 */
    dw_ppm markup;            /* on cost; 0 */
    dw_money labor_rate;      /* an hour; 0: labor is not priced */
    int64_t minutes_drawer;   /* labor for one drawer */
    int64_t minutes_case;
    int64_t minutes_setting;  /* one fence or stop setting */
};

/* One more thing to buy by rule: so many for each drawer, front, case or job. */
enum dw_per { DW_PER_DRAWER, DW_PER_FRONT, DW_PER_CASE, DW_PER_JOB };

struct dw_hardware {
    const char *id;
    const char *name;
    const char *supplier;
    enum dw_per per;
    int64_t count;            /* for each */
    dw_length from_width;     /* only for fronts at least this wide (two pulls on a wide front); 0 */
    dw_money price;           /* of one pack */
    int64_t pack;             /* pieces in a pack: 1 */
    bool pull;                /* a pull or knob: the front is drilled for it and it wants screws */
    dw_length centers;        /* of a pull's two screws; 0: a knob with one */
    dw_money screw_price;     /* of one such screw; 0: they come with the pull */
};

struct dw_banding {
    const char *id;
    const char *name;
    const char *supplier;
    dw_length thickness;
    dw_length width;
    dw_length waste;          /* extra for each strip: 1 in */
    dw_length roll;           /* length of a roll */
    dw_money price;           /* of a roll */
};

/* Something bought beside sheets, in packs: what is wanted for all that is made, and what is bought. */
struct dw_goods {
    const char *id, *what;   /* as on the shopping list */
    int64_t wanted, bought;
};

/* A value of a job that a plan settled by its own search: for the plans that follow it stands in the job as if --set had put it there. */
struct dw_given {
    const char *job, *address, *value; /* id of the job; "cases[0].box.height_most"; "4 3/8 in" */
};

/* So many of a material's sheets that are spoken for already. */
struct dw_taken {
    const char *material, *sheet; /* ids */
    int64_t count;
};

/* What a supplier asks for bringing an order. */
struct dw_supplier {
    const char *name;
    dw_money delivery;
    bool left_out;            /* nothing is bought here */
};

struct dw_shop {
    int64_t format;          /* of the file that holds it: 1 */
    const char *name;
    enum dw_unit unit;
    struct dw_habits habits;
    struct dw_prices prices;
    const struct dw_material *materials;
    size_t material_count;
    const struct dw_slide *slides;
    size_t slide_count;
    const struct dw_saw *saws;
    size_t saw_count;
    const struct dw_hardware *hardware;
    size_t hardware_count;
    const struct dw_banding *bandings;
    size_t banding_count;
    const struct dw_supplier *suppliers;
    size_t supplier_count;
};

/* ---- how fronts and boxes are made ---------------------------------------------------------------------- */

enum dw_fit_kind {
    DW_FIT_INHERIT,
    DW_INSET,        /* inside the opening, a gap all round */
    DW_OVERLAY,      /* over the case by its own amount on each side */
    DW_FULL_OVERLAY, /* over the case to a reveal from its outside edge; beside a shared partition half of it */
    DW_HALF_OVERLAY, /* on each shared member half of what a gap leaves */
    DW_LIPPED        /* overlay with a rabbet round the back, so that part of the front enters the opening */
};

struct dw_fit {
    enum dw_fit_kind kind;
    dw_length overlay[DW_EDGES]; /* DW_OVERLAY, DW_LIPPED: over the edge of the opening; after completion set for these */
    dw_length lip;               /* DW_LIPPED: thickness left outside the opening */
    dw_length leeway;            /* DW_OVERLAY, DW_LIPPED: each side may cover so much less to save a sheet; may stay unset: by habit */
};

enum dw_joint {
    DW_JOINT_INHERIT,
    DW_BUTT,             /* end against face: screws, dowels, pocket screws */
    DW_RABBET,           /* side's end rabbeted for the whole end of the cross piece */
    DW_DADO,             /* side dadoed for the whole thickness, set in from the end */
    DW_RABBET_AND_DADO,  /* a tongue on the cross piece in a dado of the side */
    DW_LOCK_RABBET,      /* a tongue on the side in a slot of a (thicker) front that laps the side's end by a lip */
    DW_FINGER,
    DW_HALF_BLIND,       /* half-blind dovetail: sides stop short of the front's face by the lap */
    DW_THROUGH,          /* through dovetail */
    DW_MITER
};

/* How the corners at one end of the box (front or back) are made. */
struct dw_corner {
    enum dw_joint joint;
    enum dw_answer cross_outside; /* DW_BUTT, DW_RABBET: the box front/back runs full width and the sides stop against it (else it goes between the sides) */
    dw_length depth;     /* of the rabbet, dado or lock slot in the side (or front, for a lock rabbet); DW_LENGTH_UNSET: half the thickness cut */
    dw_length tongue;    /* thickness of the tongue (width of dado); DW_LENGTH_UNSET: by rule of the joint */
    dw_length lap;       /* half-blind: wood left before the tails; lock rabbet: lip; dado: from the side's end to the dado;
                            DW_LENGTH_UNSET by rule of the joint */
    dw_length pitch;     /* fingers: the width of one, as the cutter makes it; dovetails: center to center of tails; DW_LENGTH_UNSET by rule */
    int64_t slope;       /* dovetail 1 : slope */
    enum dw_answer through_ends; /* screws or dowels go through the joint too */
};

enum dw_bottom {
    DW_BOTTOM_INHERIT,
    DW_BOTTOM_GROOVED,   /* in a groove on four sides */
    DW_BOTTOM_SLID_IN,   /* grooves in front and sides, slid in under a short back */
    DW_BOTTOM_RABBETED,  /* in a rabbet round the lower edge */
    DW_BOTTOM_APPLIED    /* under the box, as large as its outside */
};

/* Which boxes of like height give together. */
enum dw_alike { DW_ALIKE_INHERIT, DW_ALIKE_JOB, DW_ALIKE_BANK, DW_ALIKE_DRAWER };

/* How far the sizes of a box may give to save a sheet. All may stay unset: as the shop's habits have it when leeway is asked for. */
struct dw_box_leeway {
    dw_length lower;             /* the box by so much lower than by rule; 0: not at all */
    dw_length step;              /* in steps of this; unset: the shop's front_step */
    int64_t shorter;             /* so many lengths of slide shorter; 0: not at all */
    dw_length groove_higher;     /* the bottom, slid in, by so much higher; 0: not at all */
    enum dw_alike alike;
};

struct dw_box {
    size_t side_material, front_material, back_material, bottom_material; /* indices into the shop's materials */
    enum dw_answer one_batch;    /* what of it is of one material comes from one batch of it */
    struct dw_corner front, back;
    enum dw_bottom bottom;
    dw_length groove_depth;      /* groove or rabbet depth */
    dw_length groove_up;         /* lower edge of the groove above the lower edge of the side */
    dw_length bottom_clearance;  /* taken off the bottom in each direction, in all */
    dw_length height;            /* wished outside height; may stay unset: by rule */
    dw_length height_least, height_most; /* may stay unset */
    dw_length depth;             /* wished outside depth; may stay unset: the slide's */
    dw_length slide_length;      /* wished; may stay unset: the longest that fits */
    struct dw_box_leeway leeway;
};

enum dw_front_kind { DW_FRONT_INHERIT, DW_FRONT_APPLIED, DW_FRONT_IS_BOX_FRONT };
enum dw_front_grain { DW_GRAIN_INHERIT, DW_GRAIN_HORIZONTAL, DW_GRAIN_VERTICAL };

struct dw_front {
    enum dw_front_kind kind;
    size_t material;
    enum dw_front_grain grain;
    enum dw_answer matched;      /* the bank's fronts are cut in order from one strip */
    const char *match_group;     /* banks with the same group match across; NULL: the bank alone */
    dw_length oversize;          /* added to length and width for trimming to fit */
    size_t banding[DW_EDGES];    /* index into bandings, or DW_NO_INDEX */
    enum dw_answer banding_after; /* banded after sizing: the part is cut less the banding; false: banded oversize stock is trimmed */
};

/* ---- cases ----------------------------------------------------------------------------------------------- */

/* A size as drawn (one reading) or as measured (several: the least counts). */
struct dw_readings {
    const dw_length *at;
    size_t count; /* 0: not given */
};

enum dw_height_rule {
    DW_HEIGHT_SHARE,      /* of what the others leave, by weight */
    DW_HEIGHT_FIXED,      /* this front height */
    DW_HEIGHT_GRADUATED,  /* by the bank's graduation */
    DW_HEIGHT_SYSTEM_32,  /* 32 m - gap, m given */
    DW_HEIGHT_INSIDE      /* whatever front gives at least this clear height inside the box */
};

struct dw_height {
    enum dw_height_rule rule;
    dw_length length;   /* FIXED: the front; INSIDE: the clear height */
    int64_t weight;     /* SHARE: 1 by default */
    int64_t modules;    /* SYSTEM_32: m */
};

enum dw_fill { DW_FILL_DRAWER, DW_FILL_DOOR, DW_FILL_OPEN, DW_FILL_PANEL };

enum dw_rail_kind { DW_RAIL_INHERIT, DW_RAIL_NONE, DW_RAIL_REAL, DW_RAIL_DUMMY }; /* a dummy rail divides fronts but not the space behind */

struct dw_rail {
    enum dw_rail_kind kind;
    dw_length height;       /* a drawer's rail whose height is unset is the bank's; 0 for none */
    dw_length cover_above;  /* the front over the rail covers so much of it; unset: by its fit */
    dw_length cover_below;  /* likewise the front under it */
};

struct dw_drawer {
    const char *name;           /* unset: its number in the bank from the top */
    enum dw_fill fill;          /* a door or open space may stand in the stack instead of a drawer */
    struct dw_height height;
    struct dw_fit fit;
    struct dw_rail rail_below;  /* between this and the next lower one; none below the lowest */
    size_t slide;               /* index into the shop's slides, DW_NO_INDEX for a door or open space */
    struct dw_box box;
    struct dw_front front;
    dw_mass load;               /* expected; DW_UNSET: by area and habits.load */
    const char *holds;          /* what goes inside, for people; "" */
};

enum dw_graduation { DW_GRADUATED_NOT, DW_GRADUATED_STEP, DW_GRADUATED_DIVIDER, DW_GRADUATED_RATIO };

/* Where to put what rounding frees. */
enum dw_freed { DW_FREED_BY_HABIT, DW_FREED_GAPS, DW_FREED_ENDS, DW_FREED_BOTTOM_FRONT, DW_FREED_DRAWER };

struct dw_bank {
    const char *name;            /* unset: its number from the left */
    struct dw_readings width;    /* of its opening; unset: a share of the case's */
    int64_t width_share;         /* weight of that share: 1 */
    struct dw_readings height;   /* unset: the case's */
    struct dw_readings depth;
    struct dw_readings diagonals; /* two, or none */
    struct dw_rail rail;         /* between all its drawers unless a drawer says otherwise */
    enum dw_graduation graduation;
    dw_length graduation_step;
    dw_ppm graduation_ratio;     /* of a front to the one above it: 1 200 000 */
    dw_length gap;               /* habit, unless told */
    dw_length gap_ends;          /* of an inset front to the members above and below the bank; the gap, unless told */
    dw_length gap_sides;         /* of an inset front to the members beside it; the gap, unless told */
    enum dw_freed freed;
    size_t freed_drawer;         /* DW_FREED_DRAWER: which */
    dw_length leeway;            /* a front may be so much lower, and another higher, to save a sheet; may stay unset: by habit */
    const struct dw_drawer *drawers; /* from the top down */
    size_t drawer_count;
};

enum dw_case_style { DW_FRAMELESS, DW_FACE_FRAME };
enum dw_beside { DW_BESIDE_OPEN, DW_BESIDE_WALL, DW_BESIDE_NEIGHBOR };

struct dw_case {
    const char *name;
    int64_t count;               /* how many alike: 1 */
    enum dw_case_style style;
    /* Either by the outside and its members ... */
    dw_length width, height, depth;     /* outside; unset when the openings are given */
    dw_length side, top, bottom, back;  /* thickness of members; after completion set (0 where there is none) */
    dw_length kick;                     /* free height beneath the bottom */
    size_t case_material;               /* of those members; DW_NO_INDEX: sizes only */
    size_t back_material;
    bool derive_parts;                  /* list the case's own parts too */
    dw_length stretcher;                /* width of the two stretchers that stand for a full top; 0: a full top */
    size_t edging;                      /* banding on the case's front edges, index or DW_NO_INDEX; case parts are cut less it */
    bool edging_round;                  /* ... and on the rear edges and the ends of the sides too */
    dw_length stile, rail_top, rail_bottom; /* face frame: width of its members */
    dw_length frame_thickness;          /* face frame; 0 for frameless */
    size_t frame_material;
    /* ... or by the opening. */
    struct dw_readings opening_width, opening_height, opening_depth, opening_diagonals;
    dw_length floor;             /* underside of the opening above the floor; by the members when given by the outside */
    dw_length partition;         /* between banks: partition (frameless) or stile (face frame) */
    dw_length partition_behind;  /* face frame: thickness of the partition behind a stile; 0: none */
    enum dw_beside left, right;
    bool free_standing;
    bool clothing;               /* a clothing storage unit */
    bool behind_doors;           /* drawers stand behind doors: hinge side needs room */
    dw_length hinge_room;
    struct dw_fit fit;           /* for all its drawers unless told */
    size_t slide;
    struct dw_box box;
    struct dw_front front;
    const struct dw_bank *banks; /* from the left */
    size_t bank_count;
};

enum dw_grain { DW_ALONG, DW_ACROSS, DW_FREE }; /* of a part: grain along its length, across it, no matter */

/* A part listed by hand. */
struct dw_extra {
    const char *name;
    const char *group;           /* case or use it belongs to; "" */
    size_t material;
    dw_length length, width;     /* to cut; banding comes on top */
    int64_t count;
    enum dw_grain grain;
    size_t banding[DW_EDGES];    /* top, bottom: the long edges; left, right: the ends */
};

/* Spare parts of each kind, in percent of the parts made. */
struct dw_spares {
    int64_t front, side, box_front, back, bottom;
};

struct dw_job {
    int64_t format;              /* of the job file: 1 */
    const char *id;              /* the file's name without path and ending */
    const char *name;
    const char *customer_note;   /* printed on the packet; "" */
    const char *date;            /* as given, or "": nothing is dated by the clock */
    enum dw_unit unit;
    struct dw_shop shop;
    const struct dw_case *cases;
    size_t case_count;
    const struct dw_extra *extras;
    size_t extra_count;
    int64_t spares_percent;      /* of the kinds that say nothing themselves: 0 */
    struct dw_spares spares;     /* of each kind, rounded up */
};

/* ---- functions ------------------------------------------------------------------------------------------- */

/* One default: where it goes, its value as written, and why. All of them, from the tables of keys.h. In `arena`
 * (inside a guard). */
struct dw_default {
    const char *address;  /* "shop.habits.gap", "cases[].count", ... */
    const char *inch;     /* as a maker writes it in an inch job, or the rule in words ... */
    const char *metric;   /* ... and in a millimeter job */
    const char *meaning;
    const char *source;   /* "" where it is our own choice */
};
const struct dw_default *dw_job_defaults(struct dw_arena *arena, size_t *count);

/* A job as it is before anything is read: everything not given. In `arena` (guarded inside; NULL out of memory). */
struct dw_job *dw_job_new(struct dw_arena *arena, enum dw_unit unit);

/* The id of a material or slide by its index; "" for DW_NO_INDEX. */
const char *dw_material_id(const struct dw_job *job, size_t material);

/* Is this the id of a batch of that material? */
bool dw_is_batch_of(const char *id, const char *material);

/* Completes and checks a job: fills defaults and inheritance into a copy in `arena`, and reports everything that is out of range
 * or contradicts itself, all at once. Returns DW_DONE with *complete set, or the gravest fault's status (then *complete is NULL). */
enum dw_status dw_job_complete(const struct dw_job *job, struct dw_arena *arena, struct dw_faults *faults,
                               const struct dw_job **complete);

/* The least of the readings; DW_LENGTH_UNSET when there are none. */
dw_length dw_readings_least(struct dw_readings readings);
dw_length dw_readings_most(struct dw_readings readings);

#endif
