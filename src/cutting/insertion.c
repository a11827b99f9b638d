/* insertion.c - slack insertion: the workhorse of every method here.
 *
 * Problem: sheets begun as slicing trees, one more part (a, b); where does it go? Every node v offers two places in each
 * position of the part:
 *     beside v (along x) if  a <= slack_x(v)  and  b <= width(v) + slack_y(v),
 *     upon v   (along y) if  b <= slack_y(v)  and  a <= length(v) + slack_x(v).
 * A place below a parent of the same kind is the parent's own place once more and is left out. Scored are: growth of
 * the area that the whole layout covers, waste closed in between v and the part, the smaller margin left times the part's longer side,
 * and the free area of the sheet; the weights are drawn anew for each pass, and about one place in a hundred is overlooked
 * ("blink"), so that a pass repeated is a new attempt.
 *
 * The layout's growth needs no walk up: the root grows by what the part asks of v beyond v's slack within the
 * root, slack(v) - slack(root).
 *
 * Cost: O(nodes) a part, no memory. Heuristic; nothing is proved. After K. Fleszar, "Three insertion heuristics and a
 * justification improvement heuristic for two-dimensional bin packing with guillotine cuts", Computers & Operations Research 40
 * (2013); blinks: J. Christiaens, G. Vanden Berghe, "Slack induction by string removals", Transportation Science 54 (2020).
 */
#include "insertion.h"

enum { TICKS_A_PLACE = 1, TICKS_A_SHEET = 4, TICKS_A_SETTLED_TWIG = 4 };
enum { MOST_TICKS_A_FILL = 50000000 }; /* a sheet of very many small pieces is left at that, and to shelves.c */

struct taste dwi_taste_draw(struct random *random)
{
    const int blinks[] = {0, 50, 100, 200};
    return (struct taste){
        .growth = dwi_random_below(random, 9),
        .enclosed = dwi_random_between(random, 1, 16),
        .margin = dwi_random_below(random, 9),
        .emptiness = dwi_random_below(random, 5),
        .blink = blinks[dwi_random_below(random, 4)],
    };
}

static int64_t larger(int64_t a, int64_t b)
{
    return a > b ? a : b;
}

static int64_t smaller(int64_t a, int64_t b)
{
    return a < b ? a : b;
}

/* A part in one position, its sheet and what the scan of its places needs. */
struct seat {
    const struct sheet *sheet;
    const struct taste *taste;
    int64_t length, width;
    int shift;
    bool turned;
};

/* Growth of the layout's area when a node whose slacks within the root are inner_x, inner_y grows by dx, dy. */
static int64_t growth_of(const struct twig *root, int64_t inner_x, int64_t inner_y, int64_t dx, int64_t dy)
{
    const int64_t length = root->length + larger(0, dx - inner_x);
    const int64_t width = root->width + larger(0, dy - inner_y);
    return length * width - root->length * root->width;
}

/* Score of the part at `twig`, along the direction of `kind`: `a` is its extent in that direction and `b` across; u, w are the
 * twig's, slack_a and slack_b its slacks likewise. */
static int64_t score_of(const struct seat *seat, const struct twig *twig, enum slice_kind kind)
{
    const struct twig *root = &seat->sheet->twigs[0];
    const bool beside = kind == SLICE_BESIDE;
    const int64_t a = beside ? seat->length : seat->width;
    const int64_t b = beside ? seat->width : seat->length;
    const int64_t along = beside ? twig->length : twig->width;
    const int64_t across = beside ? twig->width : twig->length;
    const int64_t slack_a = beside ? twig->slack_x : twig->slack_y;
    const int64_t slack_b = beside ? twig->slack_y : twig->slack_x;
    const int64_t rise = larger(0, b - across);
    const int64_t enclosed = b < across ? (across - b) * a : rise * along;
    const int64_t margin = smaller(slack_a - a, across + slack_b - b) * larger(a, b);
    const int64_t growth = growth_of(root, twig->slack_x - root->slack_x, twig->slack_y - root->slack_y,
                                     beside ? a : rise, beside ? rise : a);
    const struct taste *taste = seat->taste;
    return taste->growth * (growth >> seat->shift) + taste->enclosed * (enclosed >> seat->shift) +
           taste->margin * (margin >> seat->shift);
}

/* A first cut asked for needs something to take off before a root that runs the other way and has stages of its own. */
static bool first_cut_is_idle(const struct seat *seat, const struct twig *root, enum slice_kind kind)
{
    const struct problem *problem = seat->sheet->problem;
    if (problem->first_cut < 0 || root->stages == 0 || (kind == SLICE_UPON) == (problem->first_cut == DW_RIP))
        return false;
    if (root->stages == 1 && root->kind == kind)
        return false;
    const struct stock *stock = &problem->stocks[seat->sheet->stock];
    if (dwi_spare_across(stock, kind))
        return false;
    return kind == SLICE_BESIDE ? larger(root->width, seat->width) >= stock->width
                                : larger(root->length, seat->length) >= stock->length;
}

static bool blinks(const struct taste *taste, struct random *random)
{
    return taste->blink > 0 && dwi_random_below(random, taste->blink) == 0;
}

static void consider(const struct seat *seat, int at, enum slice_kind kind, struct random *random, struct place *best)
{
    const struct twig *twig = &seat->sheet->twigs[at];
    if (twig->above == kind || (twig->may & 1u << kind) == 0 || blinks(seat->taste, random))
        return;
    if (at == 0 && first_cut_is_idle(seat, twig, kind))
        return;
    const int64_t score = score_of(seat, twig, kind);
    if (score < best->score)
        *best = (struct place){.score = score, .at = at, .kind = kind, .turned = seat->turned};
}

static void scan(const struct seat *seat, struct random *random, struct place *best)
{
    const struct sheet *sheet = seat->sheet;
    const int64_t a = seat->length;
    const int64_t b = seat->width;
    for (int i = 0; i < sheet->count; i++) {
        const struct twig *twig = &sheet->twigs[i];
        if (a <= twig->slack_x && b <= twig->width + twig->slack_y)
            consider(seat, i, SLICE_BESIDE, random, best);
        if (b <= twig->slack_y && a <= twig->length + twig->slack_x)
            consider(seat, i, SLICE_UPON, random, best);
    }
}

/* The part as the first of an empty sheet. */
static void consider_empty(const struct seat *seat, struct place *best)
{
    const struct stock *stock = &seat->sheet->problem->stocks[seat->sheet->stock];
    const int64_t a = seat->length;
    const int64_t b = seat->width;
    if (a > stock->length || b > stock->width)
        return;
    const int64_t margin = smaller(stock->length - a, stock->width - b) * larger(a, b);
    const int64_t score = seat->taste->growth * (a * b >> seat->shift) + seat->taste->margin * (margin >> seat->shift);
    if (score < best->score)
        *best = (struct place){.score = score, .kind = SLICE_ITEM, .turned = seat->turned};
}

bool dwi_find_place(const struct sheet *sheet, int index, const struct taste *taste, struct random *random,
                    int64_t *ticks, struct place *place)
{
    const struct problem *problem = sheet->problem;
    const struct item *item = &problem->items[index];
    const int64_t rest = sheet->room - item->area;
    if (rest < 0)
        return false;
    *ticks += TICKS_A_SHEET;
    *place = (struct place){.score = INT64_MAX};
    for (int turned = 0; turned <= item->turn; turned++) {
        const struct seat seat = {
            .sheet = sheet,
            .taste = taste,
            .length = turned ? item->width : item->length,
            .width = turned ? item->length : item->width,
            .shift = problem->area_shift,
            .turned = turned,
        };
        if (sheet->count == 0) {
            consider_empty(&seat, place);
        } else if (dwi_sheet_may_hold(sheet, seat.length, seat.width)) {
            scan(&seat, random, place);
            *ticks += (int64_t)sheet->count * TICKS_A_PLACE;
        }
    }
    if (place->score == INT64_MAX)
        return false;
    place->score += taste->emptiness * (rest >> problem->area_shift);
    return true;
}

void dwi_fill(struct sheet *sheet, const int *ranks, int count, int64_t *wanted, const struct taste *taste,
              struct random *random, int64_t *ticks, struct dw_arena *arena)
{
    for (int r = 0; r < count; r++) {
        struct place place;
        while (wanted[ranks[r]] > 0 && *ticks < MOST_TICKS_A_FILL &&
               dwi_find_place(sheet, ranks[r], taste, random, ticks, &place)) {
            dwi_sheet_insert(sheet, place.at, place.kind, ranks[r], place.turned, arena);
            wanted[ranks[r]]--;
            *ticks += (int64_t)sheet->count * TICKS_A_SETTLED_TWIG;
        }
    }
}
