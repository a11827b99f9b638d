/* drawing_fixture.h - one case with two drawers, its parts and a sheet, all by hand, so that scenes can be held against golden ones whatever the rooms
 * before do. Its figures fit one another (a case 20 wide, 12 high, 18 deep of 3/4 stock; inset fronts of 4 and 6 with gaps of 1/8; boxes 17-1/2 wide on 16 in
 * side-mount slides); they are invented. Include after cmocka.h.
 */
#ifndef DW_TESTS_DRAWING_FIXTURE_H
#define DW_TESTS_DRAWING_FIXTURE_H

#include <string.h>

#include <drawerwright/drawing.h>
#include <drawerwright/layout.h>
#include <drawerwright/purchase.h>

#define I(n) ((dw_length)((n) * 406400)) /* inches, exact for the fractions used here */

enum { DRAWERS = 2, PARTS = 5, PIECES = 2 };

struct drawing_fixture {
    struct dw_job job;
    struct dw_material materials[2];
    struct dw_slide slide;
    struct dw_case source;
    struct dw_bank bank;
    struct dw_drawer drawers[DRAWERS];
    struct dw_step step;
    struct dw_sized_drawer sized[DRAWERS];
    struct dw_sized_bank sized_bank;
    struct dw_sized_case sized_case;
    struct dw_sizing sizing;
    struct dw_piece pieces[PARTS][PIECES];
    struct dw_part_work side_works[2], cross_works[2];
    struct dw_part part[PARTS];
    struct dw_parts parts;
    const struct dw_parts *jobs[1];
    struct dw_layout_node leaves[5], strips[3];
    struct dw_layout_sheet sheet;
    struct dw_sheet_source source_sheet;
    struct dw_layout_problem problem;
    struct dw_ladder_cut cuts[5];
    struct dw_panel panels[11];
    struct dw_ladder_rung rungs[5];
    struct dw_material_layout material_layout;
    struct dw_layouts layouts;
    struct dw_purchase purchase;
};

static inline struct dw_figure figure_of(const struct drawing_fixture *f, dw_length value)
{
    return (struct dw_figure){.name = "", .value = value, .steps = &f->step, .step_count = 1};
}

static inline void fixture_drawer(struct drawing_fixture *f, size_t index, const char *path, dw_length y, dw_length height, dw_length box_height)
{
    struct dw_drawer *drawer = &f->drawers[index];
    struct dw_sized_drawer *sized = &f->sized[index];
    drawer->fit.kind = DW_INSET;
    drawer->front = (struct dw_front){.kind = DW_FRONT_APPLIED, .material = 0};
    drawer->box = (struct dw_box){.side_material = 0, .front_material = 0, .back_material = 0, .bottom_material = 1, .bottom = DW_BOTTOM_GROOVED,
                                  .front = {.joint = DW_RABBET_AND_DADO, .slope = DW_UNSET}, .back = {.joint = DW_BUTT, .slope = DW_UNSET}};
    drawer->holds = "";
    *sized = (struct dw_sized_drawer){
        .drawer = drawer, .path = path, .address = index == 0 ? "cases[0].banks[0].drawers[0]" : "cases[0].banks[0].drawers[1]", .drawer_index = index,
        .front = {I(0.875), y, I(18.25), height}, .front_height = figure_of(f, height), .front_width = figure_of(f, I(18.25)),
        .box = {I(1.25), y + I(0.5), I(17.5), box_height}, .box_width = figure_of(f, I(17.5)), .box_height = figure_of(f, box_height),
        .box_depth = figure_of(f, I(16)), .inside_width = figure_of(f, I(16)), .inside_height = figure_of(f, box_height - I(0.5)),
        .inside_depth = figure_of(f, I(14.5)), .slide_length = figure_of(f, I(16)), .set_back = figure_of(f, I(0.75)),
        .slide_center = figure_of(f, y + I(0.5) + box_height / 2 - I(0.75)), .side_clearance = I(0.5)};
}

static inline void fixture_sizing(struct drawing_fixture *f)
{
    f->materials[0] = (struct dw_material){.id = "stock", .name = "3/4 stock", .thickness = I(0.75), .grained = true, .source = ""};
    f->materials[1] = (struct dw_material){.id = "thin", .name = "1/4 ply", .thickness = I(0.25), .source = ""};
    f->slide = (struct dw_slide){.id = "side", .name = "side-mount slide", .kind = DW_SIDE_MOUNT, .clearance = I(0.5), .center = DW_LENGTH_UNSET};
    f->job = (struct dw_job){.id = "fixture", .name = "Fixture", .customer_note = "", .date = "", .unit = DW_IN};
    f->job.shop = (struct dw_shop){.name = "", .materials = f->materials, .material_count = 2, .slides = &f->slide, .slide_count = 1,
                                   .prices = {.currency = {.mark = "", .decimals = 2}}};
    fixture_drawer(f, 0, "Case/A/1", I(7.25), I(4), I(3));
    fixture_drawer(f, 1, "Case/A/2", I(1.125), I(6), I(5));
    f->source = (struct dw_case){.name = "Case", .count = 1, .width = I(20), .height = I(12), .depth = I(18), .side = I(0.75), .back = I(0.25)};
    f->sized_bank = (struct dw_sized_bank){.bank = &f->bank, .address = "cases[0].banks[0]", .path = "Case/A", .opening = {I(0.75), I(1), I(18.5), I(10.375)},
                                           .drawers = f->sized, .drawer_count = DRAWERS, .freed = ""};
    f->sized_case = (struct dw_sized_case){.source = &f->source, .address = "cases[0]", .path = "Case", .width = I(20), .height = I(12), .depth = I(18),
                                           .inside_width = I(18.5), .inside_depth = I(17.75), .opening = f->sized_bank.opening,
                                           .banks = &f->sized_bank, .bank_count = 1};
    f->sizing = (struct dw_sizing){.job = &f->job, .cases = &f->sized_case, .case_count = 1, .drawer_count = DRAWERS};
}

static inline void fixture_part(struct drawing_fixture *f, size_t index, enum dw_part_kind kind, const char *name, size_t material, dw_length length, dw_length width,
                                const char *mark, const char *second)
{
    for (size_t i = 0; i < PIECES; i++)
        f->pieces[index][i] = (struct dw_piece){.mark = i == 0 ? mark : second, .drawer_path = "Case/A/1"};
    f->part[index] = (struct dw_part){.id = name, .kind = kind, .name = name, .material = material, .length = figure_of(f, length), .width = figure_of(f, width),
                                      .thickness = f->materials[material].thickness, .pieces = f->pieces[index], .count = second == NULL ? 1 : 2};
}

static inline void fixture_parts(struct drawing_fixture *f)
{
    f->side_works[0] = (struct dw_part_work){.kind = DW_WORK_DADO, .where = "inside face, front end", .from_edge = I(0.375), .width = I(0.375), .depth = I(0.375),
                                             .number = 1, .words = "front end: dado"};
    f->side_works[1] = (struct dw_part_work){.kind = DW_WORK_GROOVE, .where = "inside face, along the lower edge", .from_edge = I(0.375), .width = I(0.25),
                                             .depth = I(0.25), .number = 1, .words = "groove"};
    f->cross_works[0] = (struct dw_part_work){.kind = DW_WORK_RABBET, .where = "outside face, both ends", .width = I(0.375), .depth = I(0.375), .number = 1,
                                              .words = "both ends: rabbet"};
    fixture_part(f, 0, DW_PART_SIDE, "side", 0, I(16), I(3), "L", "R");
    fixture_part(f, 1, DW_PART_BOX_FRONT, "box front", 0, I(16.75), I(3), "BF", NULL);
    fixture_part(f, 2, DW_PART_BACK, "back", 0, I(16), I(3), "BK", NULL);
    fixture_part(f, 3, DW_PART_BOTTOM, "bottom", 1, I(16.5), I(15), "BT", NULL);
    fixture_part(f, 4, DW_PART_FRONT, "front", 0, I(18.25), I(4), "F", NULL);
    f->part[0].works = f->side_works;
    f->part[0].work_count = 2;
    f->part[1].works = f->cross_works;
    f->part[1].work_count = 1;
    f->parts = (struct dw_parts){.sizing = &f->sizing, .at = f->part, .count = PARTS};
}

static inline struct dw_layout_node fixture_leaf(dw_length x, dw_length y, dw_length length, dw_length width, size_t part, size_t piece, const char *mark)
{
    return (struct dw_layout_node){.x = x, .y = y, .length = length, .width = width, .use = DW_NODE_PART, .piece = {0, part, piece}, .mark = mark};
}

static inline struct dw_layout_node fixture_cut(dw_length y, dw_length width, enum dw_cut cut, const struct dw_layout_node *pieces, size_t count)
{
    return (struct dw_layout_node){.x = I(0.25), .y = y, .length = I(39.5), .width = width, .use = DW_NODE_CUT, .cut = cut, .pieces = pieces,
                                   .piece_count = count, .mark = ""};
}

/* A sheet 40 by 10, trimmed 1/4 all round, kerf 1/8: a strip of 3 with both sides, one of 4 with the front and an offcut, waste. At the saw the right
 * side comes off before the left one, though it is drawn behind it. */
static inline void fixture_layout(struct drawing_fixture *f)
{
    const dw_length low = I(0.25);
    f->leaves[0] = fixture_leaf(low, low, I(16), I(3), 0, 0, "L");
    f->leaves[1] = fixture_leaf(I(16.375), low, I(16), I(3), 0, 1, "R");
    f->leaves[2] = (struct dw_layout_node){.x = I(32.5), .y = low, .length = I(7.25), .width = I(3), .use = DW_NODE_WASTE, .mark = ""};
    f->leaves[3] = fixture_leaf(low, I(3.375), I(18.25), I(4), 4, 0, "F");
    f->leaves[4] = (struct dw_layout_node){.x = I(18.625), .y = I(3.375), .length = I(21.125), .width = I(4), .use = DW_NODE_KEEP, .mark = "S1-off1"};
    f->strips[0] = fixture_cut(low, I(3), DW_CROSSCUT, &f->leaves[0], 3);
    f->strips[1] = fixture_cut(I(3.375), I(4), DW_CROSSCUT, &f->leaves[3], 2);
    f->strips[2] = fixture_cut(I(7.5), I(2.25), DW_RIP, NULL, 0);
    f->strips[2].use = DW_NODE_WASTE;
    f->sheet = (struct dw_layout_sheet){.name = "S1", .root = fixture_cut(low, I(9.5), DW_RIP, f->strips, 3)};
    f->source_sheet = (struct dw_sheet_source){.id = "board", .supplier = "Yard", .length = I(40), .width = I(10), .note = ""};
    f->problem = (struct dw_layout_problem){.letter = "S", .sources = &f->source_sheet, .source_count = 1, .request = {.kerf = I(0.125)}};
    f->panels[0] = (struct dw_panel){.name = "S1", .length = I(40), .width = I(10), .use = DW_NODE_CUT};
    f->panels[1] = (struct dw_panel){.name = "", .length = I(40), .width = I(0.25), .use = DW_NODE_WASTE};
    f->panels[2] = (struct dw_panel){.name = "S1", .length = I(40), .width = I(9.75), .use = DW_NODE_CUT};
    f->panels[3] = (struct dw_panel){.name = "S1-a", .length = I(40), .width = I(3), .use = DW_NODE_CUT};
    f->panels[4] = (struct dw_panel){.name = "S1", .length = I(40), .width = I(6.625), .use = DW_NODE_CUT};
    f->panels[5] = (struct dw_panel){.name = "S1-b", .length = I(40), .width = I(4), .use = DW_NODE_CUT};
    f->panels[6] = (struct dw_panel){.name = "", .length = I(40), .width = I(2.5), .use = DW_NODE_WASTE};
    f->cuts[0] = (struct dw_ladder_cut){.panel = 0, .off = 1, .rest = 2, .cut = DW_RIP};
    f->cuts[1] = (struct dw_ladder_cut){.panel = 2, .off = 3, .rest = 4, .cut = DW_RIP};
    f->cuts[2] = (struct dw_ladder_cut){.panel = 4, .off = 5, .rest = 6, .cut = DW_RIP};
    f->panels[7] = (struct dw_panel){.name = "R", .length = I(16), .width = I(3), .use = DW_NODE_PART, .piece = {0, 0, 1}};
    f->panels[8] = (struct dw_panel){.name = "L", .length = I(16), .width = I(3), .use = DW_NODE_PART, .piece = {0, 0, 0}};
    f->panels[9] = (struct dw_panel){.name = "F", .length = I(18.25), .width = I(4), .use = DW_NODE_PART, .piece = {0, 4, 0}};
    f->panels[10] = (struct dw_panel){.name = "S1-off1", .length = I(21.125), .width = I(4), .use = DW_NODE_KEEP};
    f->cuts[3] = (struct dw_ladder_cut){.panel = 3, .off = 7, .rest = 8, .cut = DW_CROSSCUT};
    f->cuts[4] = (struct dw_ladder_cut){.panel = 5, .off = 9, .rest = 10, .cut = DW_CROSSCUT};
    for (int i = 0; i < 5; i++)
        f->rungs[i] = (struct dw_ladder_rung){.number = i + 1, .kind = i == 0 ? DW_LADDER_TRIM : DW_LADDER_RIP, .cuts = &f->cuts[i], .cut_count = 1,
                                              .tool = "", .edge = "", .what = "", .caution = ""};
    f->material_layout = (struct dw_material_layout){.problem = &f->problem, .sheets = &f->sheet, .sheet_count = 1,
                                                     .ladder = {.rungs = f->rungs, .rung_count = 5, .panels = f->panels, .panel_count = 11, .cuts = 5}};
    f->jobs[0] = &f->parts;
    f->layouts = (struct dw_layouts){.jobs = f->jobs, .job_count = 1, .materials = &f->material_layout, .material_count = 1};
    f->purchase = (struct dw_purchase){.plan_mark = "ABC123", .layouts = &f->layouts};
}

/* *f must not move afterwards. */
static inline void drawing_fixture_make(struct drawing_fixture *f)
{
    memset(f, 0, sizeof *f);
    fixture_sizing(f);
    fixture_parts(f);
    fixture_layout(f);
}

#endif
