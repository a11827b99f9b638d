/* replay.c - the checker of ladders. It shares nothing with the files that build them but the public header.
 *
 * It takes the sheets as bought, follows pass after pass by the settings alone, and believes no size that the ladder states: each panel that
 * comes off or is left is reckoned anew, with the kerf of the saw that makes the pass. Every pass must be on a panel that is in hand then,
 * and within the limits of its saw. At the end the panels in hand must be exactly the pieces wanted, each once, to size and with the grain
 * the right way, and the offcuts named; matched fronts must have come from one strip in their order, a kerf apart.
 *
 * Rough cuts: they are on sheets as bought, or what is left of them, and the yard's come first of all. What the yard has cut fits the van, waste
 * apart. A rough edge never lies against a fence, no piece has one at the end, and what is over comes off whole.
 */
#include <drawerwright/layout.h>

#include <stdarg.h>
#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

enum { X_LOW, X_HIGH, Y_LOW, Y_HIGH, SIDES };

/* A panel as it was reckoned here. */
struct held {
    bool made, cut;
    size_t sheet;
    dw_length x, y, length, width;
    bool true_cut;      /* made by one */
    bool rough[SIDES];  /* its edges that were cut roughly */
};

struct replay {
    const struct dw_parts *const *jobs;
    const struct dw_material_layout *layout;
    const struct dw_material *material;
    const struct dw_shop *shop;
    struct dw_faults *faults;
    struct dw_arena *arena;
    struct held *held;
    size_t rung;
};

static void breach(const struct replay *replay, const char *code, const char *format, ...) __attribute__((format(printf, 3, 4)));

static void breach(const struct replay *replay, const char *code, const char *format, ...)
{
    struct dw_text text = dw_text_in(replay->arena);
    va_list arguments;
    va_start(arguments, format);
    dw_text_addv(&text, format, arguments);
    va_end(arguments);
    dw_error(replay->faults, DW_PROGRAM, code, dw_arena_format(replay->arena, "ladder.rungs[%zu]", replay->rung), "%s", text.bytes);
}

/* ---- saws ---- */

static dw_length kerf_of(const struct replay *replay, size_t saw)
{
    const dw_length layout_kerf = replay->layout->problem->request.kerf;
    if (saw == DW_NO_INDEX || replay->shop->saws[saw].kerf <= 0)
        return layout_kerf;
    return replay->shop->saws[saw].kerf;
}

/* One pass: the edge along the cut, the distance that the guide holds, and the narrower of the pieces that are kept. */
static const char *limit_broken(const struct replay *replay, const struct dw_ladder_rung *rung, dw_length edge, dw_length between,
                                dw_length narrowest)
{
    const bool rough = rung->kind == DW_LADDER_ROUGH || rung->kind == DW_LADDER_YARD;
    if (rough != (rung->guide == DW_GUIDE_ROUGH || rung->guide == DW_GUIDE_YARD))
        return "a rough cut and its guide do not agree";
    if (rung->kind == DW_LADDER_YARD)
        return rung->saw == DW_NO_INDEX ? NULL : "the yard does not have the shop's saws";
    static const struct dw_saw table = {.kind = DW_TABLE_SAW, .rip_most = DW_LENGTH_MAX, .crosscut_most = DW_LENGTH_MAX,
                                        .width_least = DW_INCH / 2, .edge_least = 10 * DW_INCH};
    static const struct dw_saw track = {.kind = DW_TRACK_SAW, .width_least = DW_INCH / 2};
    const struct dw_saw *saw = rung->saw != DW_NO_INDEX ? &replay->shop->saws[rung->saw] : rung->guide == DW_GUIDE_TRACK ? &track : &table;
    if (rung->guide == DW_GUIDE_ROUGH && (rung->saw == DW_NO_INDEX || saw->kind != DW_TABLE_SAW))
        return rung->saw != DW_NO_INDEX && saw->cut_longest > 0 && edge > saw->cut_longest ? "longer than the saw cuts" : NULL;
    const bool guides_track = saw->kind == DW_TRACK_SAW || saw->kind == DW_PANEL_SAW;
    if (guides_track != (rung->guide == DW_GUIDE_TRACK) || saw->kind == DW_CIRCULAR_SAW)
        return "the saw has no such guide";
    if (narrowest < saw->width_least)
        return "narrower than the saw's least width";
    if (rung->guide == DW_GUIDE_STOP)
        return edge > saw->crosscut_most ? "wider than the saw crosscuts" : NULL;
    if (rung->guide == DW_GUIDE_TRACK)
        return saw->cut_longest > 0 && edge > saw->cut_longest ? "longer than the saw cuts" : NULL;
    if (between > saw->rip_most)
        return "over the rip capacity";
    if (edge < saw->edge_least)
        return "too short an edge against the fence";
    return edge < between ? "the edge against the fence is shorter than its distance" : NULL;
}

/* ---- one pass ---- */

static void put(const struct replay *replay, size_t index, struct held panel, const char *what)
{
    const struct dw_ladder *ladder = &replay->layout->ladder;
    if (index >= ladder->panel_count || replay->held[index].made) {
        breach(replay, "panel-number", "what %s has no panel of its own", what);
        return;
    }
    const struct dw_panel *stated = &ladder->panels[index];
    if (stated->length != panel.length || stated->width != panel.width || stated->sheet != panel.sheet)
        breach(replay, "panel-size", "what %s is not the size that is stated", what);
    panel.made = true;
    panel.cut = false;
    replay->held[index] = panel;
}

/* What the pass leaves of the panel: from `from` on, `size` long, in the direction across the cut. Its new edges are as the pass makes them. */
static struct held part_from(struct held panel, enum dw_cut cut, dw_length from, dw_length size, bool rough)
{
    const int low = cut == DW_CROSSCUT ? X_LOW : Y_LOW;
    const dw_length whole = cut == DW_CROSSCUT ? panel.length : panel.width;
    panel.true_cut = !rough;
    if (from > 0)
        panel.rough[low] = rough;
    if (from + size < whole)
        panel.rough[low + 1] = rough;
    if (cut == DW_CROSSCUT) {
        panel.x += from;
        panel.length = size;
    } else {
        panel.y += from;
        panel.width = size;
    }
    return panel;
}

/* True when a rough cut is made after a true one, or a true one in a way that its panel's rough edges forbid: `taken` is what goes with an edge that
 * a trim takes off. */
static const char *roughness_broken(const struct replay *replay, const struct dw_ladder_rung *rung, const struct dw_ladder_cut *cut, dw_length taken)
{
    const struct held *panel = &replay->held[cut->panel];
    const int low = cut->cut == DW_CROSSCUT ? X_LOW : Y_LOW;
    const bool trim = rung->kind == DW_LADDER_TRIM;
    if (rung->kind == DW_LADDER_YARD || rung->kind == DW_LADDER_ROUGH) {
        const struct dw_sheet_source *source = &replay->layout->problem->sources[replay->layout->sheets[panel->sheet].source];
        return panel->true_cut ? "a rough cut after a true one" : rung->kind == DW_LADDER_YARD && source->owned ? "the yard does not have the sheet" : NULL;
    }
    if (rung->guide == DW_GUIDE_FENCE && panel->rough[trim ? low + !cut->high : low])
        return "a rough edge against the fence";
    if (rung->guide == DW_GUIDE_OUTSIDE && panel->rough[low + 1])
        return "a rough edge against the fence";
    return trim && panel->rough[low + cut->high] && taken < replay->shop->habits.rough_over ? "some of what is over stays on" : NULL;
}

static void follow(const struct replay *replay, const struct dw_ladder_rung *rung, const struct dw_ladder_cut *cut)
{
    if (cut->panel >= replay->layout->ladder.panel_count || !replay->held[cut->panel].made || replay->held[cut->panel].cut) {
        breach(replay, "panel-absent", "a panel is cut that is not in hand");
        return;
    }
    struct held *panel = &replay->held[cut->panel];
    panel->cut = true;
    const dw_length kerf = kerf_of(replay, rung->saw);
    const dw_length across = cut->cut == DW_CROSSCUT ? panel->length : panel->width;
    const dw_length edge = cut->cut == DW_CROSSCUT ? panel->width : panel->length;
    const bool trim = rung->kind == DW_LADDER_TRIM;
    dw_length off = rung->setting, rest = across - rung->setting - kerf, between = rung->setting;
    if (trim && rung->guide == DW_GUIDE_FENCE) {
        off = across - rung->setting - kerf;
        rest = rung->setting;
    } else if (trim) {
        off = rung->setting - kerf;
        rest = between = across - rung->setting;
    } else if (rung->guide == DW_GUIDE_OUTSIDE) {
        off = across - rung->setting - kerf;
        rest = rung->setting;
    }
    const char *broken = limit_broken(replay, rung, edge, between, rung->guide == DW_GUIDE_OUTSIDE ? dw_least(between, off) : between);
    if (broken != NULL)
        breach(replay, "limit", "%s", broken);
    const bool rough = rung->kind == DW_LADDER_YARD || rung->kind == DW_LADDER_ROUGH;
    const char *roughness = roughness_broken(replay, rung, cut, off + kerf);
    if (roughness != NULL)
        breach(replay, "rough", "%s", roughness);
    if (off > across || rest > across || rung->setting <= 0 || (!rough && kerf > replay->layout->problem->request.kerf)) {
        breach(replay, "pass", "the panel does not reach from the guide to the blade");
        return;
    }
    if ((off > 0) != (cut->off != DW_NO_INDEX) || (rest > 0) != (cut->rest != DW_NO_INDEX)) {
        breach(replay, "pass-panels", "the panels stated are not those that the pass leaves");
        return;
    }
    if (off > 0)
        put(replay, cut->off, part_from(*panel, cut->cut, cut->high ? across - off : 0, off, rough), "comes off");
    if (rest > 0)
        put(replay, cut->rest, part_from(*panel, cut->cut, cut->high ? 0 : across - rest, rest, rough), "is left");
}

/* ---- the end ---- */

/* Where each piece wanted was cut. */
struct tally {
    size_t **panel;   /* for each job, part and piece of the jobs, its panel; DW_NO_INDEX when it has none yet. [job][first[job][part] + piece] */
    size_t **first;
    bool **wanted;    /* by this material */
    size_t job_count;
};

static size_t piece_count(const struct dw_layout_problem *problem, size_t part)
{
    return problem->matches[part] != NULL ? problem->matches[part]->count : (size_t)problem->request.parts[part].count;
}

static size_t job_count(const struct dw_layout_problem *problem)
{
    size_t count = 0;
    for (size_t p = 0; p < problem->request.part_count; p++)
        for (size_t i = 0; i < piece_count(problem, p); i++)
            count = problem->pieces[p][i].job >= count ? problem->pieces[p][i].job + 1 : count;
    return count;
}

static struct tally make_tally(const struct replay *replay)
{
    const struct dw_layout_problem *problem = replay->layout->problem;
    const size_t jobs = job_count(problem);
    struct tally tally = {.panel = dw_arena_alloc(replay->arena, jobs, sizeof *tally.panel),
                          .first = dw_arena_alloc(replay->arena, jobs, sizeof *tally.first),
                          .wanted = dw_arena_alloc(replay->arena, jobs, sizeof *tally.wanted),
                          .job_count = jobs};
    for (size_t job = 0; job < jobs; job++) {
        size_t count = 0;
        tally.first[job] = dw_arena_alloc(replay->arena, replay->jobs[job]->count, sizeof **tally.first);
        for (size_t p = 0; p < replay->jobs[job]->count; p++) {
            tally.first[job][p] = count;
            count += replay->jobs[job]->at[p].count;
        }
        tally.wanted[job] = dw_arena_alloc(replay->arena, count, sizeof **tally.wanted);
        tally.panel[job] = dw_arena_alloc(replay->arena, count, sizeof **tally.panel);
        for (size_t i = 0; i < count; i++)
            tally.panel[job][i] = DW_NO_INDEX;
    }
    for (size_t p = 0; p < problem->request.part_count; p++)
        for (size_t i = 0; i < piece_count(problem, p); i++) {
            const struct dw_piece_ref ref = problem->pieces[p][i];
            tally.wanted[ref.job][tally.first[ref.job][ref.part] + ref.piece] = true;
        }
    return tally;
}

static size_t *panel_of(const struct tally *tally, struct dw_piece_ref ref)
{
    return &tally->panel[ref.job][tally->first[ref.job][ref.part] + ref.piece];
}

static bool is_wanted(const struct replay *replay, const struct tally *tally, struct dw_piece_ref ref)
{
    return ref.job < tally->job_count && ref.part < replay->jobs[ref.job]->count &&
           ref.piece < replay->jobs[ref.job]->at[ref.part].count && tally->wanted[ref.job][tally->first[ref.job][ref.part] + ref.piece];
}

/* To size, and with the grain as the part asks: along the sheet's grain for a part with its grain along its length. */
static bool is_to_size(const struct replay *replay, const struct dw_part *part, const struct held *panel)
{
    const struct dw_sheet_source *source = &replay->layout->problem->sources[replay->layout->sheets[panel->sheet].source];
    const bool straight = panel->length == part->length.value && panel->width == part->width.value;
    const bool turned = panel->length == part->width.value && panel->width == part->length.value;
    if (!replay->material->grained || part->grain == DW_FREE)
        return straight || turned;
    return (part->grain == DW_ALONG) != source->grain_across ? straight : turned;
}

static void take_piece(const struct replay *replay, const struct tally *tally, size_t index)
{
    const struct dw_panel *stated = &replay->layout->ladder.panels[index];
    if (!is_wanted(replay, tally, stated->piece)) {
        breach(replay, "piece-unknown", "%s is cut and nobody wants it", stated->name);
        return;
    }
    size_t *slot = panel_of(tally, stated->piece);
    if (*slot != DW_NO_INDEX)
        breach(replay, "piece-twice", "%s is cut twice", stated->name);
    *slot = index;
    const struct dw_part *part = &replay->jobs[stated->piece.job]->at[stated->piece.part];
    const struct held *panel = &replay->held[index];
    if (!is_to_size(replay, part, panel))
        breach(replay, "piece-size", "%s does not come out to its size and grain", stated->name);
    if (panel->rough[X_LOW] || panel->rough[X_HIGH] || panel->rough[Y_LOW] || panel->rough[Y_HIGH])
        breach(replay, "rough", "%s has a rough edge", stated->name);
    if (strcmp(stated->name, part->pieces[stated->piece.piece].mark) != 0)
        breach(replay, "piece-mark", "%s is not the mark of its piece", stated->name);
}

/* A group's pieces follow one another with the same edge, a kerf apart or (a saw of less kerf) less. */
static void check_match(const struct replay *replay, const struct tally *tally, size_t part)
{
    const struct dw_layout_problem *problem = replay->layout->problem;
    for (size_t i = 1; i < problem->matches[part]->count; i++) {
        const size_t before = *panel_of(tally, problem->pieces[part][i - 1]), after = *panel_of(tally, problem->pieces[part][i]);
        if (before == DW_NO_INDEX || after == DW_NO_INDEX)
            return; /* reported as missing */
        const struct held *a = &replay->held[before], *b = &replay->held[after];
        const dw_length in_x = b->x - (a->x + a->length), in_y = b->y - (a->y + a->width);
        const bool beside = a->y == b->y && in_x > 0 && in_x <= problem->request.kerf;
        const bool upon = a->x == b->x && in_y > 0 && in_y <= problem->request.kerf;
        const bool touching = problem->request.kerf == 0 && (in_x == 0 || in_y == 0);
        if (a->sheet != b->sheet || !(beside || upon || touching))
            breach(replay, "match", "matched group %s does not come from one strip in its order", problem->matches[part]->name);
    }
}

/* The offcut of this name that the layout shows. */
static const struct dw_layout_node *find_kept(const struct dw_layout_node *node, const char *mark)
{
    if (node->use == DW_NODE_KEEP)
        return strcmp(node->mark, mark) == 0 ? node : NULL;
    const struct dw_layout_node *found = NULL;
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count && found == NULL; i++)
        found = find_kept(&node->pieces[i], mark);
    return found;
}

static size_t count_kept(const struct dw_layout_node *node)
{
    size_t count = node->use == DW_NODE_KEEP;
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count; i++)
        count += count_kept(&node->pieces[i]);
    return count;
}

/* An offcut comes out as it is named; only a factory or rough edge may stay on it, which is not counted. */
static void check_kept(const struct replay *replay, size_t index)
{
    const struct held *panel = &replay->held[index];
    const char *name = replay->layout->ladder.panels[index].name;
    const struct dw_layout_node *kept = find_kept(&replay->layout->sheets[panel->sheet].root, name);
    const dw_length *trim = replay->layout->problem->sources[replay->layout->sheets[panel->sheet].source].trim;
    dw_length more[SIDES];
    for (int side = 0; side < SIDES; side++)
        more[side] = panel->rough[side] ? replay->shop->habits.rough_over : trim[side];
    if (kept == NULL || panel->length < kept->length || panel->width < kept->width ||
        panel->length > kept->length + more[X_LOW] + more[X_HIGH] || panel->width > kept->width + more[Y_LOW] + more[Y_HIGH])
        breach(replay, "offcut", "offcut %s does not come out as it is named", name);
}

static void check_end(const struct replay *replay)
{
    const struct tally tally = make_tally(replay);
    const struct dw_ladder *ladder = &replay->layout->ladder;
    size_t kept = 0, named = 0;
    for (size_t i = 0; i < ladder->panel_count; i++) {
        if (!replay->held[i].made)
            breach(replay, "panel-idle", "panel %zu never comes into being", i);
        else if (!replay->held[i].cut && ladder->panels[i].use == DW_NODE_PART)
            take_piece(replay, &tally, i);
        else if (!replay->held[i].cut && ladder->panels[i].use == DW_NODE_KEEP) {
            check_kept(replay, i);
            kept++;
        } else if (!replay->held[i].cut && ladder->panels[i].use == DW_NODE_CUT)
            breach(replay, "panel-uncut", "%s is left uncut", ladder->panels[i].name);
    }
    for (size_t s = 0; s < replay->layout->sheet_count; s++)
        named += count_kept(&replay->layout->sheets[s].root);
    if (kept != named)
        breach(replay, "offcut-count", "%zu offcuts are named and %zu come out", named, kept);
    const struct dw_layout_problem *problem = replay->layout->problem;
    for (size_t p = 0; p < problem->request.part_count; p++) {
        for (size_t i = 0; i < piece_count(problem, p); i++)
            if (*panel_of(&tally, problem->pieces[p][i]) == DW_NO_INDEX)
                breach(replay, "piece-missing", "a piece that is wanted is never cut");
        if (problem->matches[p] != NULL)
            check_match(replay, &tally, p);
    }
}

static bool fits_van(const struct dw_habits *habits, dw_length length, dw_length width)
{
    const dw_length van_length = habits->van_length > 0 ? habits->van_length : DW_LENGTH_MAX;
    const dw_length van_width = habits->van_width > 0 ? habits->van_width : van_length;
    return (length <= van_length && width <= van_width) || (width <= van_length && length <= van_width);
}

/* All that is in hand now and was bought goes into the van, waste apart. */
static void carry_home(const struct replay *replay)
{
    const struct dw_ladder *ladder = &replay->layout->ladder;
    for (size_t i = 0; i < ladder->panel_count; i++) {
        const struct held *panel = &replay->held[i];
        if (!panel->made || panel->cut || ladder->panels[i].use == DW_NODE_WASTE ||
            replay->layout->problem->sources[replay->layout->sheets[panel->sheet].source].owned)
            continue;
        if (!fits_van(&replay->shop->habits, panel->length, panel->width))
            breach(replay, "van", "%s does not fit the van", ladder->panels[i].name);
    }
}

static void replay_body(void *context)
{
    struct replay *replay = context;
    const struct dw_ladder *ladder = &replay->layout->ladder;
    replay->held = dw_arena_alloc(replay->arena, ladder->panel_count, sizeof *replay->held);
    for (size_t s = 0; s < replay->layout->sheet_count; s++) {
        const struct dw_sheet_source *source = &replay->layout->problem->sources[replay->layout->sheets[s].source];
        put(replay, s, (struct held){.sheet = s, .length = source->length, .width = source->width}, "was bought");
    }
    size_t cuts = 0;
    bool in_shop = false;
    for (; replay->rung < ladder->rung_count; replay->rung++) {
        const struct dw_ladder_rung *rung = &ladder->rungs[replay->rung];
        if (in_shop && rung->kind == DW_LADDER_YARD)
            breach(replay, "yard", "the sheets are in the shop already");
        if (!in_shop && rung->kind != DW_LADDER_YARD)
            carry_home(replay);
        in_shop = rung->kind != DW_LADDER_YARD;
        for (size_t c = 0; c < rung->cut_count; c++)
            follow(replay, rung, &rung->cuts[c]);
        cuts += rung->cut_count;
    }
    if (cuts != ladder->cuts)
        breach(replay, "cut-count", "%zu passes are stated and %zu made", ladder->cuts, cuts);
    check_end(replay);
}

bool dw_ladder_replay(const struct dw_parts *const *jobs, const struct dw_material_layout *layout, struct dw_faults *faults)
{
    const struct dw_shop *shop = &jobs[0]->sizing->job->shop;
    const size_t errors = faults->errors;
    struct replay replay = {.jobs = jobs, .layout = layout, .material = &shop->materials[layout->problem->material], .shop = shop,
                            .faults = faults, .arena = dw_arena_new()};
    if (replay.arena == NULL || !dw_arena_guard(replay.arena, replay_body, &replay))
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out while the ladder was checked");
    dw_arena_free(replay.arena);
    return faults->errors == errors;
}
