/* rungs.c - a rung of the ladder in words: what is cut, from what, what it is called then, and the one thing to mind.
 *
 * Figures for cautions: push block with an auxiliary fence for rips of 1/2 to 2 in, from a table saw owner's manual (page 45 of the one at
 * manualsdump.com/amp/en/manuals/275312/45); hands 6 in from the blade, from another maker's saw manual.
 */
#include "ladder.h"

#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "breakdown.h"
#include "frame.h"

/* What the words of one rung are made from. */
struct saying {
    const struct dw_parts *const *jobs;
    const struct schedule *schedule;
    const struct raw_rung *raw;
    struct dw_arena *arena;
    const struct dw_material_layout *layout;
};

static const struct dw_panel *panel_at(const struct saying *saying, size_t index)
{
    return &saying->schedule->panels[index];
}

/* The first cut of the rung that is from the same panel's name, for saying each name once. */
static bool is_first_from(const struct saying *saying, size_t cut)
{
    const char *name = panel_at(saying, saying->raw->cuts[cut].panel)->name;
    for (size_t i = 0; i < cut; i++)
        if (strcmp(panel_at(saying, saying->raw->cuts[i].panel)->name, name) == 0)
            return false;
    return true;
}

/* "both long edges and one end": what a trim takes off the panel of that name. */
static const char *trimmed_edges(const struct saying *saying, const char *name)
{
    static const char *const edge_words[] = {"", "one long edge", "both long edges"};
    static const char *const end_words[] = {"", "one end", "both ends"};
    size_t ends = 0, edges = 0;
    const struct dw_panel *before = NULL; /* any trim: one that is nearly square may end up with its other side the longer */
    for (size_t i = 0; i < saying->raw->cut_count; i++) {
        const struct dw_ladder_cut *cut = &saying->raw->cuts[i];
        const struct dw_panel *panel = panel_at(saying, cut->panel);
        if (strcmp(panel->name, name) != 0)
            continue;
        before = before == NULL ? panel : before;
        const bool across = (cut->cut == DW_CROSSCUT) == (before->length >= before->width);
        *(across ? &ends : &edges) += 1;
    }
    return dw_arena_format(saying->arena, "%s%s%s", edge_words[edges], edges > 0 && ends > 0 ? " and " : "", end_words[ends]);
}

static dw_length size_cut(const struct saying *saying)
{
    const struct dw_panel *off = panel_at(saying, saying->raw->cuts[0].off);
    return saying->raw->cuts[0].cut == DW_CROSSCUT ? off->length : off->width;
}

/* What stays in hand after the last pass on a panel. */
static const char *left_words(const struct saying *saying, const struct dw_ladder_cut *last)
{
    if (last->rest == DW_NO_INDEX)
        return "";
    const struct dw_panel *rest = panel_at(saying, last->rest);
    if (rest->use == DW_NODE_WASTE)
        return "scrap";
    if (rest->use != DW_NODE_KEEP)
        return rest->name;
    return dw_arena_format(saying->arena, "%s to keep, %s x %s", rest->name, dwi_layout_show_own(saying->arena, saying->jobs, rest->node->length),
                           dwi_layout_show_own(saying->arena, saying->jobs, rest->node->width));
}

/* All passes of the rung on the panels of one name, which are one panel that grows smaller. */
static struct dw_ladder_step step_from(const struct saying *saying, size_t first)
{
    const char *name = panel_at(saying, saying->raw->cuts[first].panel)->name;
    struct dw_ladder_step step = {.from = name};
    struct dw_text off = dw_text_in(saying->arena);
    const struct dw_ladder_cut *last = &saying->raw->cuts[first];
    for (size_t i = first; i < saying->raw->cut_count; i++) {
        const struct dw_ladder_cut *cut = &saying->raw->cuts[i];
        if (strcmp(panel_at(saying, cut->panel)->name, name) != 0)
            continue;
        step.cuts++;
        last = cut;
        if (cut->off != DW_NO_INDEX && panel_at(saying, cut->off)->name[0] != '\0')
            dw_text_addf(&off, "%s%s", off.length == 0 ? "" : " ", panel_at(saying, cut->off)->name);
    }
    const bool trim = saying->raw->kind == DW_LADDER_TRIM;
    step.off = trim ? trimmed_edges(saying, name) : off.length == 0 ? "scrap" : off.bytes;
    step.left = trim ? "" : left_words(saying, last);
    return step;
}

static void add_steps(const struct saying *saying, struct dw_ladder_rung *rung)
{
    struct dw_ladder_step *steps = dw_arena_alloc(saying->arena, saying->raw->cut_count, sizeof *steps);
    for (size_t i = 0; i < saying->raw->cut_count; i++)
        if (is_first_from(saying, i))
            steps[rung->step_count++] = step_from(saying, i);
    rung->steps = steps;
}

/* "S1: 6 off: S1-a S1-b ...; left S1-off2 to keep, ...". */
static const char *step_words(struct dw_arena *arena, const struct dw_ladder_rung *rung, const struct dw_ladder_step *step)
{
    if (rung->kind == DW_LADDER_TRIM)
        return dw_arena_format(arena, "%s: %s", step->from, step->off);
    return dw_arena_format(arena, "%s: %zu off: %s%s%s", step->from, step->cuts, step->off, step->left[0] == '\0' ? "" : "; left ", step->left);
}

static const char *all_steps(struct dw_arena *arena, const struct dw_ladder_rung *rung)
{
    struct dw_text text = dw_text_in(arena);
    for (size_t i = 0; i < rung->step_count; i++)
        dw_text_addf(&text, "%s%s", i == 0 ? "" : ". ", step_words(arena, rung, &rung->steps[i]));
    return text.bytes;
}

/* The shortest piece that a sled carries in this rung. */
static dw_length least_across(const struct saying *saying)
{
    dw_length least = DW_LENGTH_MAX;
    for (size_t i = 0; i < saying->raw->cut_count; i++) {
        const struct dw_panel *panel = panel_at(saying, saying->raw->cuts[i].panel);
        least = dw_least(least, saying->raw->cuts[i].cut == DW_CROSSCUT ? panel->length : panel->width);
    }
    return least;
}

static const char *caution(const struct saying *saying)
{
    const struct raw_rung *raw = saying->raw;
    const bool fence = raw->way.guide == DW_GUIDE_FENCE || raw->way.guide == DW_GUIDE_OUTSIDE;
    if (fence && raw->way.setting < 2 * DW_INCH)
        return "under 2 in between fence and blade: auxiliary fence and push block";
    if (raw->way.guide == DW_GUIDE_OUTSIDE)
        return dw_arena_format(saying->arena, "the %s kept outside depends on the panel's true width: measure it, or use a track saw",
                               dwi_layout_show(saying->arena, saying->jobs, size_cut(saying)));
    if (fence && raw->first)
        return "a whole sheet on the saw: a helper, or stands beside and behind";
    if (raw->way.guide == DW_GUIDE_STOP && least_across(saying) < 12 * DW_INCH)
        return "short stock: clamp it, hands 6 in from the blade";
    return "";
}

/* How the edges were made that are trimmed. */
static const char *edge_trimmed(const struct raw_rung *raw)
{
    return raw->rough && raw->factory ? "factory or rough" : raw->rough ? "rough" : "factory";
}

/* How the first panel's edge was made that is measured from. */
static const char *edge_made(const struct saying *saying)
{
    if (saying->raw->factory || saying->raw->rough)
        return saying->raw->rough ? "rough edge" : "factory edge";
    if (!saying->raw->first)
        return "sawn edge";
    const struct dw_ladder_cut *cut = &saying->raw->cuts[0];
    const struct dw_layout_sheet *sheet = &saying->layout->sheets[panel_at(saying, cut->panel)->sheet];
    const dw_length trim = saying->layout->problem->sources[sheet->source].trim[cut->cut == DW_CROSSCUT ? 0 : 2];
    return trim > 0 ? "trimmed edge" : "factory edge";
}

static const char *edge_words(const struct saying *saying)
{
    const bool trim = saying->raw->kind == DW_LADDER_TRIM;
    struct dw_arena *arena = saying->arena;
    switch (saying->raw->way.guide) {
    case DW_GUIDE_STOP:
        if (trim)
            return dw_arena_format(arena, "%s end past the blade by so much", edge_trimmed(saying->raw));
        return saying->raw->factory ? "factory end against the stop" : saying->raw->rough ? "rough end against the stop" : "clean end against the stop";
    case DW_GUIDE_TRACK:
        return dw_arena_format(arena, "from the %s", trim ? dw_arena_format(arena, "%s edge", edge_trimmed(saying->raw)) : edge_made(saying));
    case DW_GUIDE_ROUGH:
    case DW_GUIDE_YARD:
        return dw_arena_format(arena, "from the %s, %s over", edge_made(saying),
                               dwi_layout_show(arena, saying->jobs, first_job(saying->jobs)->shop.habits.rough_over));
    case DW_GUIDE_FENCE:
    case DW_GUIDE_OUTSIDE:
        break;
    }
    return trim ? dw_arena_format(arena, "far edge against the fence, %s edge off", edge_trimmed(saying->raw))
                : dw_arena_format(arena, "%s against the fence", edge_made(saying));
}

static void add_sheet_names(const struct saying *saying, struct dw_ladder_rung *rung)
{
    const char **names = dw_arena_alloc(saying->arena, saying->layout->sheet_count, sizeof *names);
    bool *seen = dw_arena_alloc(saying->arena, saying->layout->sheet_count, sizeof *seen);
    for (size_t i = 0; i < saying->raw->cut_count; i++)
        seen[panel_at(saying, saying->raw->cuts[i].panel)->sheet] = true;
    for (size_t s = 0; s < saying->layout->sheet_count; s++)
        if (seen[s])
            names[rung->sheet_count++] = saying->layout->sheets[s].name;
    rung->sheets = names;
}

struct dw_ladder_rung dwi_rung_say(const struct dw_parts *const *jobs, const struct saws *saws, const struct schedule *schedule,
                                   const struct raw_rung *raw, struct dw_arena *arena, const struct dw_material_layout *layout)
{
    const struct saying saying = {jobs, schedule, raw, arena, layout};
    struct dw_ladder_rung rung = {.kind = raw->kind, .setting = raw->way.setting, .saw = saws->places[raw->way.saw], .guide = raw->way.guide,
                                  .tool = dwi_saws_tool(saws, &raw->way), .cuts = raw->cuts, .cut_count = raw->cut_count};
    rung.edge = edge_words(&saying);
    add_steps(&saying, &rung);
    rung.what = all_steps(arena, &rung);
    rung.caution = caution(&saying);
    add_sheet_names(&saying, &rung);
    return rung;
}

/* ---- the block of cautions ---- */

/* Of the sheets that come to the shop whole; 0 when there are none, or the density is not known. */
static dw_mass heaviest_sheet(const struct dw_material *material, const struct dw_material_layout *layout)
{
    dw_mass most = 0;
    for (size_t s = 0; s < layout->sheet_count; s++) {
        const struct dw_sheet_source *source = &layout->problem->sources[layout->sheets[s].source];
        const dw_mass weight = layout->sheets[s].broken == DW_SHEET_YARD ? 0 : dwi_panel_weight(material, source->length, source->width);
        most = weight > most ? weight : most;
    }
    return most;
}

/* "96 lb": in the jobs' units, rounded to whole ones. 1 lb = 453 592.37 mg. */
static const char *weight_words(const struct dw_parts *const *jobs, struct dw_arena *arena, dw_mass weight)
{
    const bool inch = first_job(jobs)->unit == DW_IN;
    return dw_arena_format(arena, "%lld %s", (long long)(inch ? (weight + 226796) / 453592 : (weight + 500000) / 1000000), inch ? "lb" : "kg");
}

static size_t count_broken(const struct dw_material_layout *layout, enum dw_breakdown broken)
{
    size_t count = 0;
    for (size_t s = 0; s < layout->sheet_count; s++)
        count += layout->sheets[s].broken == broken;
    return count;
}

/* What to do about a heavy sheet: nothing but help where its cuts leave no room for a rough one. */
static const char *lifting_words(const struct dw_parts *const *jobs, struct dw_arena *arena, const struct dw_material *material, dw_mass weight,
                                 const struct dw_material_layout *layout)
{
    const bool broken = count_broken(layout, DW_SHEET_ROUGH) > 0;
    return dw_arena_format(arena, "A whole sheet of %s weighs about %s: two people%s.", material->name, weight_words(jobs, arena, weight),
                           broken ? " carry it to where the rough cuts are made" : ", or the yard makes the first cuts");
}

static bool has_guide(const struct dw_ladder *ladder, enum dw_guide guide)
{
    for (size_t i = 0; i < ladder->rung_count; i++)
        if (ladder->rungs[i].guide == guide)
            return true;
    return false;
}

void dwi_ladder_cautions(const struct dw_parts *const *jobs, struct dw_arena *arena, struct dw_material_layout *layout)
{
    enum { MOST = 5 };
    const struct dw_material *material = &first_job(jobs)->shop.materials[layout->problem->material];
    const char **cautions = dw_arena_alloc(arena, MOST, sizeof *cautions);
    size_t count = 0;
    cautions[count++] = "The saw's manual and local codes come first. Guard and riving knife on, push stick at hand, eyes, ears and lungs covered.";
    const dw_mass weight = heaviest_sheet(material, layout);
    if (weight > layout->problem->lift_most)
        cautions[count++] = lifting_words(jobs, arena, material, weight, layout);
    if (count_broken(layout, DW_SHEET_WHOLE) < layout->sheet_count)
        cautions[count++] = dw_arena_format(arena, "Rough cuts need not be exact: each panel has %s over at a rough edge, which its trim takes off.",
                                            dwi_layout_show(arena, jobs, first_job(jobs)->shop.habits.rough_over));
    if (has_guide(&layout->ladder, DW_GUIDE_STOP))
        cautions[count++] = "Where a stop is named the rip fence stays away: nothing may be caught between fence and gauge.";
    cautions[count++] = dw_arena_format(arena, "A kerf of %s is counted on: saw a scrap and measure before the first sheet.",
                                        dwi_layout_show(arena, jobs, layout->problem->request.kerf));
    layout->ladder.cautions = cautions;
    layout->ladder.caution_count = count;
}
