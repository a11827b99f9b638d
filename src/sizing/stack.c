/* stack.c - the heights of the fronts in one bank, solved exactly before anything is rounded.
 *
 * What a bank must obey, with h the fronts and s the seams from the top of the opening to its bottom:
 *
 *     sum of h  +  sum of s  =  opening height        (a seam where a front laps the end of the opening is negative)
 *
 * Heights that are told (fixed, 32 mm system, from the inside) are set first. The rest belongs to the others:
 *     by weight                h = rest x w / sum of w
 *     by an equal step s       top front x = (rest - s (0 + 1 + .. + k-1)) / k, then x + s, x + 2 s, ..
 *     by the divider rule      the same with s = the rail between (Walker: the bottom 6, dividers 1 -> 6, 5, 4, 3)
 *     by ratio                 by weight, with weights 1, r, r^2, ..
 * Where fronts share the rest, graduated ones cannot find theirs in it: they count their steps from a fixed one.
 * Nothing left for somebody, or something left for nobody, is a fault that says how much.
 */
#include "sizer.h"

#include <drawerwright/memory.h>

enum { PPM = 1000000 };

#define RATIO_UNIT ((int64_t)1000000000)         /* weight of the first front graduated by ratio */
#define RATIO_MOST ((int64_t)1000000000000000)   /* rest x weight must fit 127 bits, the sum of 1000 weights 63 */

static const struct dw_drawer *drawer_at(const struct dwi_stack *stack, size_t i)
{
    return &stack->bank->bank->drawers[i];
}

static const char *height_name(const struct dwi_stack *stack, size_t i)
{
    return drawer_at(stack, i)->fill == DW_FILL_OPEN ? "open height" : "front height";
}

/* ---- heights that are told ----------------------------------------------------------------------------------- */

/* Free height that a front's space has beyond the front itself, at the edge on this seam. */
static dw_length slack_above(const struct dwi_seam *seam, bool end)
{
    return end || dwi_is_rail(seam->rail) ? -seam->below.cover : 0;
}

static dw_length slack_below(const struct dwi_seam *seam, bool end)
{
    return end || dwi_is_rail(seam->rail) ? -seam->above.cover : 0;
}

/* How much higher than its box a front must be for the box to get its height: by the habit that a box is so much
 * lower than its front (or its framed space), and by the room that the slide asks below and above. */
static dw_length front_over_box(const struct dwi_sizer *sizer, const struct dwi_stack *stack, size_t i)
{
    const struct dw_drawer *drawer = drawer_at(stack, i);
    if (drawer->front.kind == DW_FRONT_IS_BOX_FRONT && drawer->fit.kind == DW_INSET)
        return 0;
    const struct dwi_seam *above = &stack->seams[i];
    const struct dwi_seam *below = &stack->seams[i + 1];
    const bool first = i == 0;
    const bool last = i + 1 == stack->count;
    const bool framed = (first || dwi_is_rail(above->rail)) && (last || dwi_is_rail(below->rail));
    const dw_length slack = slack_above(above, first) + slack_below(below, last);
    const dw_length habit = sizer->habits->box_less + (framed ? dw_most(-slack, 0) : 0);
    const struct dw_slide *slide = dwi_slide_of(sizer->job, drawer);
    return dw_most(habit, slide->below + slide->above - slack);
}

static struct dwi_figuring height_from_inside(const struct dwi_sizer *sizer, const struct dwi_stack *stack, size_t i)
{
    const struct dw_drawer *drawer = drawer_at(stack, i);
    struct dwi_figuring figuring = dwi_figure_start(sizer->arena, height_name(stack, i), "clear height wanted inside", drawer->height.length);
    if (drawer->fill != DW_FILL_DRAWER)
        return figuring; /* no box stands in it */
    dwi_figure_add(&figuring, "bottom and what is under it", dwi_box_under(sizer->job, drawer));
    dwi_figure_at_least(&figuring, "the slide asks for a box of", dwi_slide_of(sizer->job, drawer)->box_least);
    dwi_figure_up_to(&figuring, "up to the step of box heights", sizer->habits->box_height_step);
    dwi_figure_add(&figuring, "the front is higher than its box by", front_over_box(sizer, stack, i));
    dwi_figure_up_to(&figuring, "up to the step of fronts", sizer->habits->front_step);
    return figuring;
}

static struct dwi_figuring height_of_modules(const struct dwi_sizer *sizer, const struct dwi_stack *stack, size_t i)
{
    const int64_t modules = drawer_at(stack, i)->height.modules;
    struct dwi_figuring figuring = dwi_figure_start(sizer->arena, height_name(stack, i), "one step of the 32 mm system", 32 * DW_MM);
    dwi_figure_times(&figuring, dw_arena_format(sizer->arena, "%lld steps", (long long)modules), modules, 1);
    dwi_figure_subtract(&figuring, "less the gap", stack->bank->bank->gap);
    return figuring;
}

/* Sets what is told; the others stay open. */
static void set_told_heights(const struct dwi_sizer *sizer, struct dwi_stack *stack)
{
    for (size_t i = 0; i < stack->count; i++) {
        stack->states[i] = DWI_HEIGHT_SET;
        switch (drawer_at(stack, i)->height.rule) {
        case DW_HEIGHT_FIXED:
            stack->heights[i] = dwi_figure_start(sizer->arena, height_name(stack, i), "as given", drawer_at(stack, i)->height.length);
            break;
        case DW_HEIGHT_SYSTEM_32:
            stack->heights[i] = height_of_modules(sizer, stack, i);
            break;
        case DW_HEIGHT_INSIDE:
            stack->heights[i] = height_from_inside(sizer, stack, i);
            break;
        case DW_HEIGHT_SHARE:
        case DW_HEIGHT_GRADUATED:
            stack->states[i] = DWI_HEIGHT_OPEN;
            break;
        }
    }
}

/* ---- the rest ------------------------------------------------------------------------------------------------- */

/* Sums over a stack's seams, as the figuring names them. */
struct seam_sums {
    size_t gaps, rails;
    dw_length gap, rail, cover;
};

static void sum_edge(struct seam_sums *sums, const struct dwi_edge *edge)
{
    if (edge->is_gap) {
        sums->gaps++;
        sums->gap -= edge->cover;
    }
    if (edge->is_overlay)
        sums->cover += edge->cover;
}

static struct seam_sums sum_middle_seams(const struct dwi_stack *stack)
{
    struct seam_sums sums = {0};
    for (size_t i = 1; i < stack->count; i++) {
        const struct dwi_seam *seam = &stack->seams[i];
        sum_edge(&sums, &seam->above);
        sum_edge(&sums, &seam->below);
        sums.gap += seam->between;
        if (dwi_is_rail(seam->rail)) {
            sums.rails++;
            sums.rail += seam->height;
        }
    }
    return sums;
}

static void add_end(struct dwi_figuring *figuring, const struct dwi_edge *edge)
{
    if (edge->cover > 0)
        dwi_figure_add(figuring, edge->words, edge->cover);
    else
        dwi_figure_subtract(figuring, edge->words, -edge->cover);
}

/* "less 6 gaps of 1/8 in", or with their sum where they differ. */
static const char *less_all(const struct dwi_sizer *sizer, size_t count, const char *one, const char *many, dw_length sum)
{
    const bool even = sum % (dw_length)count == 0;
    return dw_arena_format(sizer->arena, "less %s", dwi_count_of(sizer, count, one, many, even ? sum / (dw_length)count : -1));
}

/* The opening less seams and set fronts: what the open heights share. */
static struct dwi_figuring rest_of(const struct dwi_sizer *sizer, const struct dwi_stack *stack, const char *name)
{
    const struct seam_sums sums = sum_middle_seams(stack);
    dw_length set = 0;
    size_t set_count = 0;
    for (size_t i = 0; i < stack->count; i++) {
        if (stack->states[i] == DWI_HEIGHT_SET) {
            set += stack->heights[i].value;
            set_count++;
        }
    }
    struct dwi_figuring figuring = dwi_figure_start(sizer->arena, name, "opening height", stack->bank->opening_height.value);
    add_end(&figuring, &stack->seams[0].below);
    add_end(&figuring, &stack->seams[stack->count].above);
    if (sums.rails > 0)
        dwi_figure_subtract(&figuring, less_all(sizer, sums.rails, "rail", "rails", sums.rail), sums.rail);
    dwi_figure_add(&figuring, "what fronts cover of the rails", sums.cover);
    if (sums.gaps > 0)
        dwi_figure_subtract(&figuring, less_all(sizer, sums.gaps, "gap", "gaps", sums.gap), sums.gap);
    if (set_count > 0)
        dwi_figure_subtract(&figuring, set_count == 1 ? "less the height that is already set"
                                                      : dw_arena_format(sizer->arena, "less the %zu heights that are already set", set_count), set);
    return figuring;
}

/* ---- graduated fronts ------------------------------------------------------------------------------------------ */

static bool is_graduated(const struct dwi_stack *stack, size_t i)
{
    return drawer_at(stack, i)->height.rule == DW_HEIGHT_GRADUATED;
}

static size_t count_rule(const struct dwi_stack *stack, enum dw_height_rule rule)
{
    size_t count = 0;
    for (size_t i = 0; i < stack->count; i++)
        count += drawer_at(stack, i)->height.rule == rule ? 1 : 0;
    return count;
}

/* The step from one graduated front to the next lower one; by the divider rule, the height of the first rail. */
static dw_length graduation_step(const struct dw_bank *bank)
{
    if (bank->graduation == DW_GRADUATED_STEP)
        return bank->graduation_step;
    for (size_t i = 0; i + 1 < bank->drawer_count; i++)
        if (dwi_is_rail(bank->drawers[i].rail_below.kind))
            return bank->drawers[i].rail_below.height;
    return 0;
}

/* The first front of fixed height: what graduated ones count from when they cannot share the rest. */
static size_t find_anchor(const struct dwi_stack *stack)
{
    for (size_t i = 0; i < stack->count; i++)
        if (drawer_at(stack, i)->height.rule == DW_HEIGHT_FIXED && drawer_at(stack, i)->fill != DW_FILL_OPEN)
            return i;
    return DW_NO_INDEX;
}

/* A graduated height `places` below (or above, negative) the anchor. */
static struct dwi_figuring height_from_anchor(const struct dwi_sizer *sizer, const struct dwi_stack *stack, size_t i,
                                              size_t anchor, int64_t places)
{
    const struct dw_bank *bank = stack->bank->bank;
    struct dwi_figuring figuring =
        dwi_figure_start(sizer->arena, height_name(stack, i), "the front of fixed height", stack->heights[anchor].value);
    const int64_t steps = places < 0 ? -places : places;
    if (bank->graduation == DW_GRADUATED_RATIO) {
        for (int64_t n = 0; n < steps; n++)
            dwi_figure_times(&figuring, "by the ratio", places > 0 ? bank->graduation_ratio : PPM,
                             places > 0 ? PPM : bank->graduation_ratio);
        dwi_figure_down_to(&figuring, "down to the step of fronts", sizer->habits->front_step);
        return figuring;
    }
    const dw_length step = graduation_step(bank);
    const char *words = dwi_count_of(sizer, (size_t)steps, "step", "steps", step);
    if (places > 0)
        dwi_figure_add(&figuring, words, step * steps);
    else
        dwi_figure_subtract(&figuring, dw_arena_format(sizer->arena, "less %s", words), step * steps);
    return figuring;
}

static void set_from_anchor(const struct dwi_sizer *sizer, struct dwi_stack *stack, size_t anchor)
{
    int64_t place = 0;
    for (size_t i = 0; i < anchor; i++)
        place -= is_graduated(stack, i) ? 1 : 0;
    for (size_t i = 0; i < stack->count; i++) {
        if (i == anchor)
            place++; /* from 0 at the anchor to 1 at the next lower graduated front */
        if (!is_graduated(stack, i))
            continue;
        stack->heights[i] = height_from_anchor(sizer, stack, i, anchor, place);
        stack->states[i] = DWI_HEIGHT_SET;
        place++;
    }
}

static void share_by_step(const struct dwi_sizer *sizer, struct dwi_stack *stack, size_t count)
{
    const dw_length step = graduation_step(stack->bank->bank);
    const dw_length places = (dw_length)(count * (count - 1) / 2);
    dw_length place = 0;
    for (size_t i = 0; i < stack->count; i++) {
        if (!is_graduated(stack, i))
            continue;
        struct dwi_figuring figuring = rest_of(sizer, stack, height_name(stack, i));
        dwi_figure_subtract(&figuring, dw_arena_format(sizer->arena, "less the steps of all %zu fronts: %s", count,
                                                       dwi_count_of(sizer, (size_t)places, "step", "steps", step)), places * step);
        dwi_figure_times(&figuring, dw_arena_format(sizer->arena, "shared by %zu", count), 1, (int64_t)count);
        dwi_figure_add(&figuring, dwi_count_of(sizer, (size_t)place, "step", "steps", step), place * step);
        stack->heights[i] = figuring;
        place++;
    }
}

/* Fills weights 1, r, r^2 .. for the graduated fronts; returns their sum, 0 when they run out of range. */
static int64_t ratio_weights(const struct dwi_stack *stack, int64_t *weights)
{
    int64_t weight = RATIO_UNIT;
    int64_t sum = 0;
    for (size_t i = 0; i < stack->count; i++) {
        if (!is_graduated(stack, i))
            continue;
        if (weight <= 0 || weight > RATIO_MOST)
            return 0;
        weights[i] = weight;
        sum += weight;
        weight = dwi_scale_down(weight, stack->bank->bank->graduation_ratio, PPM);
    }
    return sum;
}

/* Shares by weight among the fronts whose weight is not 0. */
static void share_by_weight(const struct dwi_sizer *sizer, struct dwi_stack *stack, const int64_t *weights, int64_t sum,
                            bool by_ratio)
{
    for (size_t i = 0; i < stack->count; i++) {
        if (stack->states[i] != DWI_HEIGHT_OPEN)
            continue;
        struct dwi_figuring figuring = rest_of(sizer, stack, height_name(stack, i));
        const char *words = by_ratio ? dw_arena_format(sizer->arena, "its part by the ratio: %lld of %lld", (long long)weights[i],
                                                       (long long)sum)
                                     : dw_arena_format(sizer->arena, "its share: %lld of %lld", (long long)weights[i], (long long)sum);
        dwi_figure_times(&figuring, words, weights[i], sum);
        stack->heights[i] = figuring;
    }
}

/* ---- faults ------------------------------------------------------------------------------------------------------ */

static bool graduation_is_told(const struct dwi_sizer *sizer, const struct dwi_stack *stack)
{
    const struct dw_bank *bank = stack->bank->bank;
    if (bank->graduation == DW_GRADUATED_NOT) {
        dw_error(sizer->faults, DW_INPUT, "no-graduation", stack->bank->address,
                 "fronts are graduated, but the bank does not say how\ngive it a step, the divider rule or a ratio");
        return false;
    }
    if (bank->graduation == DW_GRADUATED_DIVIDER && graduation_step(bank) == 0) {
        dw_error(sizer->faults, DW_INPUT, "no-graduation", stack->bank->address,
                 "the divider rule needs a rail between the drawers\ngive the bank a rail, or a step");
        return false;
    }
    return true;
}

static void report_over(const struct dwi_sizer *sizer, const struct dwi_stack *stack, dw_length over)
{
    dw_error(sizer->faults, DW_IMPOSSIBLE, "stack-over", stack->bank->address,
             "fronts, gaps and rails need %s more than the opening of %s has\nlower fronts or rails by %s altogether, or take fewer drawers",
             dwi_show(sizer, over), dwi_show(sizer, stack->bank->opening_height.value), dwi_show(sizer, over));
}

/* Fixed heights alone must fill the opening, to within what rounding each to the shop's step may have left. */
static bool all_set_fit(const struct dwi_sizer *sizer, struct dwi_stack *stack, dw_length rest)
{
    const struct dw_bank *bank = stack->bank->bank;
    const dw_length loose = (dw_length)stack->count * sizer->habits->front_step;
    if (rest < 0) {
        report_over(sizer, stack, -rest);
        return false;
    }
    if (rest > loose && bank->freed == DW_FREED_BY_HABIT) {
        dw_error(sizer->faults, DW_IMPOSSIBLE, "stack-under", stack->bank->address,
                 "fronts, gaps and rails fill %s of the opening of %s: %s is left for nobody\n"
                 "let one front take a share, or raise fronts by %s altogether",
                 dwi_show(sizer, stack->bank->opening_height.value - rest), dwi_show(sizer, stack->bank->opening_height.value),
                 dwi_show(sizer, rest), dwi_show(sizer, rest));
        return false;
    }
    stack->freed = rest;
    return true;
}

/* Every open height must come to at least one step of the shop's fronts. */
static bool open_heights_fit(const struct dwi_sizer *sizer, const struct dwi_stack *stack, dw_length rest)
{
    const dw_length least = dw_most(sizer->habits->front_step, 1);
    dw_length lacking = 0;
    for (size_t i = 0; i < stack->count; i++)
        if (stack->heights[i].value < least)
            lacking += least - stack->heights[i].value;
    if (lacking == 0)
        return true;
    report_over(sizer, stack, rest < 0 ? -rest : lacking);
    return false;
}

static bool share_rest(const struct dwi_sizer *sizer, struct dwi_stack *stack, size_t graduated)
{
    int64_t *weights = dw_arena_alloc(sizer->arena, stack->count, sizeof *weights);
    int64_t sum = 0;
    const bool by_ratio = graduated > 0 && stack->bank->bank->graduation == DW_GRADUATED_RATIO;
    if (graduated > 0 && !by_ratio) {
        share_by_step(sizer, stack, graduated);
        return true;
    }
    if (by_ratio) {
        sum = ratio_weights(stack, weights);
    } else {
        for (size_t i = 0; i < stack->count; i++)
            sum += weights[i] = stack->states[i] == DWI_HEIGHT_OPEN ? drawer_at(stack, i)->height.weight : 0;
    }
    if (sum <= 0) {
        dw_error(sizer->faults, DW_IMPOSSIBLE, "graduation-steep", stack->bank->address,
                 "the fronts' weights run out of range\ntake a ratio nearer to 1, or fewer fronts");
        return false;
    }
    share_by_weight(sizer, stack, weights, sum, by_ratio);
    return true;
}

bool dwi_stack_solve(const struct dwi_sizer *sizer, struct dwi_stack *stack)
{
    stack->states = dw_arena_alloc(sizer->arena, stack->count, sizeof *stack->states);
    stack->heights = dw_arena_alloc(sizer->arena, stack->count, sizeof *stack->heights);
    set_told_heights(sizer, stack);
    size_t graduated = count_rule(stack, DW_HEIGHT_GRADUATED);
    const size_t shares = count_rule(stack, DW_HEIGHT_SHARE);
    if (graduated > 0 && !graduation_is_told(sizer, stack))
        return false;
    if (graduated > 0 && shares > 0) {
        const size_t anchor = find_anchor(stack);
        if (anchor == DW_NO_INDEX) {
            dw_error(sizer->faults, DW_IMPOSSIBLE, "stack-uncertain", stack->bank->address,
                     "%zu graduated fronts and %zu that share both wait for the same rest\nfix one front, or let all graduate or all share",
                     graduated, shares);
            return false;
        }
        set_from_anchor(sizer, stack, anchor);
        graduated = 0;
    }
    const dw_length rest = rest_of(sizer, stack, "rest").value;
    if (graduated + shares == 0)
        return all_set_fit(sizer, stack, rest);
    return share_rest(sizer, stack, graduated) && open_heights_fit(sizer, stack, rest);
}
