/* leeway_words.c - what leeway did, as a maker says it. */
#include "knobs.h"

#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

enum { WITHOUT_WORK = 50000, WITHOUT_MOST = 6 };

/* ---- paths ---------------------------------------------------------------------------------------------------- */

/* Where the last name of a path begins, and its number; 0 when it is no number. */
static size_t split_path(const char *path, long *number)
{
    const char *slash = strrchr(path, '/');
    const size_t at = slash == NULL ? 0 : (size_t)(slash - path) + 1;
    *number = strspn(path + at, "0123456789") == strlen(path + at) && strlen(path + at) < 9 ? strtol(path + at, NULL, 10) : 0;
    return at;
}

/* True when `next` is named one higher than `path` in the same place. */
static bool follows(const char *path, const char *next)
{
    long number = 0;
    long after = 0;
    const size_t at = split_path(path, &number);
    return split_path(next, &after) == at && number > 0 && after == number + 1 && strncmp(path, next, at) == 0;
}

/* "Seeds/L/1 to 8, Seeds/M/2". */
static const char *paths_of(struct dw_arena *arena, const struct dwi_knob *knob)
{
    struct dw_text text = dw_text_in(arena);
    for (size_t i = 0; i < knob->member_count;) {
        size_t last = i;
        long number = 0;
        while (last + 1 < knob->member_count && follows(knob->members[last].path, knob->members[last + 1].path))
            last++;
        dw_text_addf(&text, "%s%s", i == 0 ? "" : ", ", knob->members[i].path);
        const char *end = knob->members[last].path + split_path(knob->members[last].path, &number);
        if (last > i)
            dw_text_addf(&text, "%s%s", last == i + 1 ? " and " : " to ", end);
        i = last + 1;
    }
    return text.bytes;
}

/* ---- changes -------------------------------------------------------------------------------------------------- */

static const char *const names[] = {
    [DWI_BOX_HEIGHT] = "box height",   [DWI_SLIDE_LENGTH] = "slide length", [DWI_GROOVE_HEIGHT] = "bottom groove height", [DWI_OVERLAY] = "overlay",
    [DWI_LISTED_LENGTH] = "length",    [DWI_LISTED_WIDTH] = "width",        [DWI_FRONTS] = "front heights",
};

static const char *show(struct dw_arena *arena, const struct dw_job *job, dw_length length)
{
    return dw_length_show(arena, length, (struct dw_length_style){.unit = job->unit, .decimals = -1});
}

/* "front heights from the top 4 15/16, 7 1/16 instead of 5, 7". */
static const char *front_words(struct dw_arena *arena, const struct dw_job *job, const struct dwi_knob *knob)
{
    struct dw_text now = dw_text_in(arena);
    struct dw_text before = dw_text_in(arena);
    for (size_t d = 0; d < knob->fronts.count; d++) {
        dw_text_addf(&now, "%s%s", d == 0 ? "" : ", ", show(arena, job, dwi_front_height(knob, d)));
        dw_text_addf(&before, "%s%s", d == 0 ? "" : ", ", show(arena, job, knob->fronts.preferred[d]));
    }
    return dw_arena_format(arena, "front heights from the top %s instead of %s", now.bytes, before.bytes);
}

static const char *const kind_words[] = {
    [DWI_BOX_HEIGHT] = "lower",     [DWI_SLIDE_LENGTH] = "shorter", [DWI_GROOVE_HEIGHT] = "higher", [DWI_OVERLAY] = "less over each edge",
    [DWI_LISTED_LENGTH] = "shorter", [DWI_LISTED_WIDTH] = "narrower", [DWI_FRONTS] = "",
};

static const char *change_words(const struct dwi_search *search, const struct dwi_knob *knob, const struct dw_leeway_change *change)
{
    struct dw_arena *arena = search->arena;
    const struct dw_job *job = search->jobs[knob->members[0].job];
    const dw_length by = change->to > change->from ? change->to - change->from : change->from - change->to;
    if (knob->kind == DWI_FRONTS)
        return dw_arena_format(arena, "%s (%s)", front_words(arena, job, knob), change->drawers);
    const char *slides = change->slides == 0 ? ""
                                             : dw_arena_format(arena, "; slides cost %s %s",
                                                               dw_money_show_mark(arena, change->slides < 0 ? -change->slides : change->slides,
                                                                                  job->shop.prices.currency),
                                                               change->slides < 0 ? "less" : "more");
    return dw_arena_format(arena, "%s %s instead of %s, %s %s (%s)%s", change->what, show(arena, job, change->to), show(arena, job, change->from),
                           show(arena, job, by), kind_words[knob->kind], change->drawers, slides);
}

/* The front that is lower by most: from and to. */
static void set_front_change(const struct dwi_knob *knob, struct dw_leeway_change *change)
{
    dw_length most = 0;
    for (size_t d = 0; d < knob->fronts.count; d++) {
        const dw_length lower = knob->fronts.preferred[d] - dwi_front_height(knob, d);
        if (lower <= most)
            continue;
        most = lower;
        change->from = knob->fronts.preferred[d];
        change->to = dwi_front_height(knob, d);
    }
}

static size_t number_of_changes(const struct dwi_knobs *knobs)
{
    size_t count = 0;
    for (size_t k = 0; k < knobs->count; k++)
        count += knobs->at[k].at > 0 ? 1 : 0;
    return count;
}

/* What the setting without this change comes to more, by a short look; 0 where there are too many changes to look at each. */
static dw_money cost_without(struct dwi_search *search, struct dwi_knob *knob, const struct dw_leeway *leeway)
{
    const dw_money cost = leeway->purchase->sheets_cost + leeway->slides;
    const size_t changes = number_of_changes(&search->knobs);
    if (changes == 1)
        return leeway->saved;
    if (changes > WITHOUT_MOST)
        return 0;
    const size_t at = knob->at;
    const int64_t work = search->corner_work;
    struct dwi_target target = {.cost = cost};
    knob->at = 0;
    search->corner_work = dw_least(work, WITHOUT_WORK);
    struct dwi_trial trial = dwi_try(search);
    if (!trial.possible || !dwi_price(search, &trial, &target))
        target.cost = cost;
    dwi_trial_drop(&trial);
    search->corner_work = work;
    knob->at = at;
    return dw_most(target.cost - cost, 0);
}

static struct dw_leeway_change change_of(struct dwi_search *search, struct dwi_knob *knob, const struct dw_leeway *leeway)
{
    const struct dwi_member *first = &knob->members[0];
    const char **paths = dw_arena_alloc(search->arena, knob->member_count, sizeof *paths);
    struct dw_leeway_change change = {.what = names[knob->kind], .drawers = paths_of(search->arena, knob), .paths = paths,
                                      .path_count = knob->member_count, .from = knob->values[0], .to = knob->values[knob->at],
                                      .slides = knob->slides == NULL ? 0 : knob->slides[knob->at]};
    for (size_t i = 0; i < knob->member_count; i++) {
        change.count += (size_t)knob->members[i].count;
        paths[i] = knob->members[i].path;
    }
    if (knob->kind == DWI_OVERLAY) { /* its values are what comes off: said of the left side */
        const struct dw_case *one = &search->jobs[first->job]->cases[first->case_index];
        change.from = one->banks[first->bank_index].drawers[first->drawer_index].fit.overlay[DW_LEFT];
        change.to = change.from - knob->values[knob->at];
    }
    if (knob->kind == DWI_FRONTS)
        set_front_change(knob, &change);
    change.saved = cost_without(search, knob, leeway);
    change.words = change_words(search, knob, &change);
    dwi_leeway_edits(search, knob, &change);
    return change;
}

/* ---- the sentence --------------------------------------------------------------------------------------------- */

static int64_t sheets_of(const struct dw_purchase *purchase)
{
    int64_t count = 0;
    for (size_t m = 0; m < purchase->layouts->material_count; m++)
        count += (int64_t)purchase->layouts->materials[m].sheet_count;
    return count;
}

static int64_t cut_of(const struct dw_material_layout *layout, size_t source)
{
    int64_t count = 0;
    for (size_t s = 0; s < layout->sheet_count; s++)
        count += layout->sheets[s].source == source ? 1 : 0;
    return count;
}

/* "1 sheet less of 1/2 birch plywood (full), 1 sheet more of ... (half)", for every sheet size whose number changed. */
static const char *sheets_words(const struct dwi_search *search, const struct dw_leeway *leeway)
{
    const struct dw_shop *shop = &search->jobs[0]->shop;
    struct dw_text text = dw_text_in(search->arena);
    const char *between = "";
    for (size_t m = 0; m < search->before->layouts->material_count; m++) {
        const struct dw_material_layout *was = &search->before->layouts->materials[m];
        const struct dw_material_layout *now = &leeway->purchase->layouts->materials[m];
        for (size_t s = 0; s < was->problem->source_count; s++) {
            const int64_t less = cut_of(was, s) - cut_of(now, s);
            const long long number = (long long)(less < 0 ? -less : less);
            if (less == 0)
                continue;
            dw_text_addf(&text, "%s%lld %s %s of %s (%s)", between, number, number == 1 ? "sheet" : "sheets", less > 0 ? "less" : "more",
                         shop->materials[was->problem->material].name, was->problem->sources[s].id);
            between = ", ";
        }
    }
    return text.bytes;
}

static const char *sentence(const struct dwi_search *search, const struct dw_leeway *leeway)
{
    const struct dw_currency currency = search->jobs[0]->shop.prices.currency;
    struct dw_text text = dw_text_in(search->arena);
    if (search->knobs.count == 0)
        return "no size may give";
    if (leeway->change_count == 0)
        return leeway->certain ? "no other size within the rules would save a sheet" : "no other size within the rules was found to save a sheet";
    for (size_t i = 0; i < leeway->change_count; i++)
        dw_text_addf(&text, "%s%s", i == 0 ? "" : "; ", leeway->changes[i].words);
    dw_text_addf(&text, ": %s%s%s saved: sheets come to %s instead of %s", leeway->sheets, leeway->sheets[0] == '\0' ? "" : ", ",
                 dw_money_show_mark(search->arena, leeway->saved, currency),
                 dw_money_show(search->arena, leeway->purchase->sheets_cost, currency.decimals),
                 dw_money_show(search->arena, leeway->before, currency.decimals));
    if (leeway->slides != 0)
        dw_text_addf(&text, ", slides to %s %s", dw_money_show(search->arena, leeway->slides < 0 ? -leeway->slides : leeway->slides, currency.decimals),
                     leeway->slides < 0 ? "less" : "more");
    return text.bytes;
}

void dwi_leeway_words(struct dwi_search *search, struct dw_leeway *leeway)
{
    struct dw_leeway_change *changes = dw_arena_alloc(search->arena, search->knobs.count, sizeof *changes);
    for (size_t k = 0; k < search->knobs.count; k++)
        if (search->knobs.at[k].at > 0)
            changes[leeway->change_count++] = change_of(search, &search->knobs.at[k], leeway);
    leeway->changes = changes;
    leeway->sheets_before = sheets_of(search->before);
    leeway->sheets_after = sheets_of(leeway->purchase);
    leeway->sheets = leeway->change_count > 0 ? sheets_words(search, leeway) : "";
    leeway->words = sentence(search, leeway);
}
