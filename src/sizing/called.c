/* called.c - the places of a fault as a maker calls them: "Bench, banks left and right, drawers 1 to 3" for nine addresses of the job file.
 *
 * Every address is looked up among the cases, banks and drawers; those found are sorted, each once, and said case by case. Banks of which the same
 * drawers are meant are said together.
 */
#include <drawerwright/sizing.h>

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include <drawerwright/memory.h>
#include <drawerwright/text.h>

/* A drawer, a bank or a case; bank and drawer count from 1, 0 stands for the whole. */
struct spot {
    size_t job, of, bank, drawer;
};

struct spots {
    const struct dw_sizing *const *sizings;
    size_t job_count;
    struct spot *at;
    size_t count;
};

/* Is `address` the thing at `of` or something of it? */
static bool belongs(const char *address, const char *of)
{
    const size_t length = strlen(of);
    return strncmp(address, of, length) == 0 && (address[length] == '\0' || address[length] == '.' || address[length] == '[');
}

static void find_in_case(const struct dw_sized_case *of, const char *address, struct spot *spot)
{
    for (size_t b = 0; b < of->bank_count && spot->bank == 0; b++) {
        if (!belongs(address, of->banks[b].address))
            continue;
        spot->bank = b + 1;
        for (size_t d = 0; d < of->banks[b].drawer_count && spot->drawer == 0; d++)
            if (belongs(address, of->banks[b].drawers[d].address))
                spot->drawer = d + 1;
    }
}

/* Of several jobs planned together each leads its addresses by its id and a colon. NULL when the address is none of this job's. */
static const char *within_job(const struct dw_job *job, size_t job_count, const char *address)
{
    const char *id = job->id == NULL ? "" : job->id;
    const size_t length = strlen(id);
    if (job_count == 1)
        return address;
    return strncmp(address, id, length) == 0 && strncmp(address + length, ": ", 2) == 0 ? address + length + 2 : NULL;
}

static bool find_spot(const struct dw_sizing *const *sizings, size_t count, const char *address, struct spot *spot)
{
    for (size_t j = 0; j < count; j++) {
        const char *rest = within_job(sizings[j]->job, count, address);
        for (size_t c = 0; rest != NULL && c < sizings[j]->case_count; c++) {
            if (!belongs(rest, sizings[j]->cases[c].address))
                continue;
            *spot = (struct spot){.job = j, .of = c};
            find_in_case(&sizings[j]->cases[c], rest, spot);
            return true;
        }
    }
    return false;
}

/* What an address outside the cases names: a material, a slide, a supplier, a part listed by hand; the address itself for anything else. */
static const char *thing_called(const struct dw_job *job, const char *address)
{
    size_t index = 0;
    char *end = NULL;
    const char *bracket = strchr(address, '[');
    if (bracket == NULL)
        return address;
    index = strtoul(bracket + 1, &end, 10);
    const size_t stem = (size_t)(bracket - address);
    const char *name = NULL;
    if (stem == strlen("shop.materials") && belongs(address, "shop.materials") && index < job->shop.material_count)
        name = job->shop.materials[index].name;
    else if (stem == strlen("shop.slides") && belongs(address, "shop.slides") && index < job->shop.slide_count)
        name = job->shop.slides[index].name;
    else if (stem == strlen("shop.suppliers") && belongs(address, "shop.suppliers") && index < job->shop.supplier_count)
        name = job->shop.suppliers[index].name;
    else if (stem == strlen("parts") && belongs(address, "parts") && index < job->extra_count)
        name = job->extras[index].name;
    return name == NULL || name[0] == '\0' ? address : name;
}

static int by_place(const void *left, const void *right)
{
    const struct spot *a = left;
    const struct spot *b = right;
    const size_t keys[4][2] = {{a->job, b->job}, {a->of, b->of}, {a->bank, b->bank}, {a->drawer, b->drawer}};
    for (size_t i = 0; i < 4; i++)
        if (keys[i][0] != keys[i][1])
            return keys[i][0] < keys[i][1] ? -1 : 1;
    return 0;
}

static void sort_spots(struct spots *spots)
{
    size_t kept = 0;
    if (spots->count > 1)
        qsort(spots->at, spots->count, sizeof *spots->at, by_place);
    for (size_t i = 0; i < spots->count; i++)
        if (kept == 0 || by_place(&spots->at[kept - 1], &spots->at[i]) != 0)
            spots->at[kept++] = spots->at[i];
    spots->count = kept;
}

/* ---- in words --------------------------------------------------------------------------------------------- */

static bool has_word(const char *name, const char *word)
{
    const size_t length = strlen(word);
    for (; *name != '\0'; name++) {
        size_t i = 0;
        while (i < length && tolower((unsigned char)name[i]) == word[i])
            i++;
        if (i == length)
            return true;
    }
    return false;
}

static const struct dw_sized_case *case_of(const struct spots *spots, size_t at)
{
    return &spots->sizings[spots->at[at].job]->cases[spots->at[at].of];
}

static const struct dw_sized_bank *bank_of(const struct spots *spots, size_t at)
{
    return &case_of(spots, at)->banks[spots->at[at].bank - 1];
}

static const struct dw_drawer *drawer_of(const struct spots *spots, size_t at)
{
    return bank_of(spots, at)->drawers[spots->at[at].drawer - 1].drawer;
}

static const char *fill_noun(enum dw_fill fill)
{
    switch (fill) {
    case DW_FILL_DRAWER:
        return "drawer";
    case DW_FILL_DOOR:
        return "door";
    case DW_FILL_OPEN:
        return "open space";
    case DW_FILL_PANEL:
        return "panel";
    }
    return "drawer";
}

/* "drawer 3", "drawers 1 to 8", "drawers 1, 2 and 5": the spots from `first` to before `end`, all of one bank. A name that says itself what it is of
 * stands alone. */
static void say_drawers(const struct spots *spots, size_t first, size_t end, struct dw_text *text)
{
    const char *noun = fill_noun(drawer_of(spots, first)->fill);
    for (size_t i = first; i < end; i++)
        if (drawer_of(spots, i)->fill != drawer_of(spots, first)->fill)
            noun = "front";
    if (!has_word(drawer_of(spots, first)->name, noun))
        dw_text_addf(text, "%s%s ", noun, end - first == 1 ? "" : "s");
    for (size_t i = first; i < end; i++) {
        size_t last = i;
        while (last + 1 < end && spots->at[last + 1].drawer == spots->at[last].drawer + 1)
            last++;
        const bool run = last >= i + 2;
        dw_text_addf(text, "%s%s", i == first ? "" : (run ? last : i) + 1 == end ? " and " : ", ", drawer_of(spots, i)->name);
        if (run) {
            dw_text_addf(text, " to %s", drawer_of(spots, last)->name);
            i = last;
        }
    }
}

static size_t end_of_bank(const struct spots *spots, size_t first)
{
    size_t end = first + 1;
    while (end < spots->count && spots->at[end].job == spots->at[first].job && spots->at[end].of == spots->at[first].of &&
           spots->at[end].bank == spots->at[first].bank)
        end++;
    return end;
}

/* Are the same drawers meant of both banks, and named alike? */
static bool says_alike(const struct spots *spots, size_t a, size_t b)
{
    const size_t count = end_of_bank(spots, a) - a;
    if (end_of_bank(spots, b) - b != count)
        return false;
    for (size_t i = 0; i < count; i++) {
        const struct spot *left = &spots->at[a + i];
        const struct spot *right = &spots->at[b + i];
        if (left->drawer != right->drawer)
            return false;
        if (left->drawer != 0 && (strcmp(drawer_of(spots, a + i)->name, drawer_of(spots, b + i)->name) != 0 ||
                                  drawer_of(spots, a + i)->fill != drawer_of(spots, b + i)->fill))
            return false;
    }
    return true;
}

/* Was this bank's share said already with that of an earlier bank of the case? */
static bool said_before(const struct spots *spots, size_t case_start, size_t at)
{
    for (size_t i = case_start; i < at; i = end_of_bank(spots, i))
        if (spots->at[i].bank != 0 && says_alike(spots, i, at))
            return true;
    return false;
}

/* "banks left and right": those from `at` on of which the same is said. */
static void say_banks(const struct spots *spots, size_t at, size_t case_end, struct dw_text *text)
{
    size_t count = 0;
    size_t said = 0;
    for (size_t i = at; i < case_end; i = end_of_bank(spots, i))
        count += says_alike(spots, at, i) ? 1 : 0;
    if (!has_word(bank_of(spots, at)->bank->name, "bank"))
        dw_text_addf(text, "bank%s ", count == 1 ? "" : "s");
    for (size_t i = at; i < case_end; i = end_of_bank(spots, i))
        if (says_alike(spots, at, i)) {
            dw_text_addf(text, "%s%s", said == 0 ? "" : said + 1 == count ? " and " : ", ", bank_of(spots, i)->bank->name);
            said++;
        }
}

/* Is every drawer of the case meant? */
static bool is_all(const struct spots *spots, size_t start, size_t end)
{
    size_t drawers = 0;
    size_t meant = 0;
    for (size_t b = 0; b < case_of(spots, start)->bank_count; b++)
        drawers += case_of(spots, start)->banks[b].drawer_count;
    for (size_t i = start; i < end; i++)
        meant += spots->at[i].drawer != 0 ? 1 : 0;
    return drawers > 1 && meant == drawers && end - start == meant;
}

/* Has another job a case of this name too? */
static bool is_shared(const struct spots *spots, size_t job, const char *path)
{
    for (size_t j = 0; j < spots->job_count; j++)
        for (size_t c = 0; j != job && c < spots->sizings[j]->case_count; c++)
            if (strcmp(spots->sizings[j]->cases[c].path, path) == 0)
                return true;
    return false;
}

/* One case and what of it is meant. */
static void say_case(const struct spots *spots, size_t start, size_t end, struct dw_text *text)
{
    const struct dw_sized_case *of = case_of(spots, start);
    const size_t job = spots->at[start].job;
    dw_text_add(text, of->path);
    if (is_shared(spots, job, of->path))
        dw_text_addf(text, " of %s", spots->sizings[job]->job->name);
    if (is_all(spots, start, end)) {
        dw_text_add(text, ", all drawers");
        return;
    }
    bool first = true;
    for (size_t i = start; i < end; i = end_of_bank(spots, i)) {
        if (spots->at[i].bank == 0 || said_before(spots, start, i))
            continue;
        size_t drawers = i;
        while (drawers < end_of_bank(spots, i) && spots->at[drawers].drawer == 0)
            drawers++;
        dw_text_add(text, first ? ", " : "; ");
        first = false;
        const bool named = of->bank_count > 1 || drawers > i; /* the one bank of a case goes without saying where drawers are named */
        if (named)
            say_banks(spots, i, end, text);
        if (drawers < end_of_bank(spots, i)) {
            dw_text_add(text, named ? ", " : "");
            say_drawers(spots, drawers, end_of_bank(spots, i), text);
        }
    }
}

static void say_spots(const struct spots *spots, struct dw_text *text)
{
    for (size_t start = 0; start < spots->count;) {
        size_t end = start;
        while (end < spots->count && spots->at[end].job == spots->at[start].job && spots->at[end].of == spots->at[start].of)
            end++;
        dw_text_add(text, text->length == 0 ? "" : "; ");
        say_case(spots, start, end, text);
        start = end;
    }
}

/* Is the place of faults->at[i] that of an earlier one that says the same? */
static bool is_again(const struct dw_faults *faults, size_t at, size_t i)
{
    for (size_t j = at; j < i; j = dw_fault_next_same(faults, at, j + 1))
        if (strcmp(faults->at[j].address, faults->at[i].address) == 0)
            return true;
    return false;
}

const char *dw_places_called(struct dw_arena *arena, const struct dw_sizing *const *sizings, size_t count, const struct dw_faults *faults, size_t at)
{
    struct spots spots = {.sizings = sizings, .job_count = count, .at = dw_arena_alloc(arena, faults->count, sizeof *spots.at)};
    struct dw_text text = dw_text_in(arena);
    for (size_t i = at; i < faults->count; i = dw_fault_next_same(faults, at, i + 1)) {
        const char *address = faults->at[i].address;
        if (find_spot(sizings, count, address, &spots.at[spots.count]))
            spots.count++;
        else if (!is_again(faults, at, i))
            dw_text_addf(&text, "%s%s", text.length == 0 ? "" : ", ", count == 0 ? address : thing_called(sizings[0]->job, address));
    }
    sort_spots(&spots);
    say_spots(&spots, &text);
    return text.bytes;
}
