/* request.c - every error of a cutting request, each with its place, a figure and what would be right.
 *
 * What passes here is safe for integers all through the room: no length is over DW_LENGTH_MAX, so one area fits 63
 * bits; the pieces are a million at most; and the area of all of them, each grown by the kerf, fits 63 bits too.
 */
#include <drawerwright/cutting.h>

#include <inttypes.h>

#include <drawerwright/memory.h>

enum { MOST_PIECES = 1000000, MOST_KINDS = 1000000 };

struct check {
    const struct dw_cut_request *request;
    struct dw_faults *faults;
    struct dw_arena *arena;
};

/* "622 mm (24 31/64 in)": a request has no unit of its own, so both are shown. */
static const char *shown(const struct check *check, dw_length length)
{
    const struct dw_length_style mm = {.unit = DW_MILLIMETER, .decimals = -1};
    const struct dw_length_style in = {.unit = DW_IN};
    return dw_arena_format(check->arena, "%s (%s)", dw_length_show_unit(check->arena, length, mm),
                           dw_length_show_unit(check->arena, length, in));
}

static const char *place(const struct check *check, const char *list, size_t index, const char *field)
{
    return dw_arena_format(check->arena, "%s[%zu]%s%s", list, index, field[0] == '\0' ? "" : ".", field);
}

static void input_error(const struct check *check, const char *code, const char *address, const char *text)
{
    dw_error(check->faults, DW_INPUT, code, address, "%s", text);
}

/* A length that must lie in least .. DW_LENGTH_MAX; true when it does. */
static bool check_length(const struct check *check, const char *address, dw_length length, dw_length least)
{
    if (length >= least && length <= DW_LENGTH_MAX)
        return true;
    if (length < least)
        input_error(check, "length-under", address,
                    dw_arena_format(check->arena, "the length is %" PRId64 " units of 1/16 micrometer\n%s", length,
                                    least > 0 ? "it must be more than nothing" : "it must not be negative"));
    else
        input_error(check, "length-over", address,
                    dw_arena_format(check->arena, "the length is %" PRId64 " units of 1/16 micrometer\nat most %s", length,
                                    shown(check, DW_LENGTH_MAX)));
    return false;
}

static void check_amount(const struct check *check, const char *address, dw_money amount)
{
    if (amount < 0 || amount > DW_MONEY_MAX)
        input_error(check, "amount-range", address,
                    dw_arena_format(check->arena, "the amount is %" PRId64 "\nit must be from 0 to %" PRId64, amount,
                                    DW_MONEY_MAX));
}

static void check_count(const struct check *check, const char *address, int64_t count, int64_t least)
{
    if (count < least || count > MOST_PIECES)
        input_error(check, "count-range", address,
                    dw_arena_format(check->arena, "the count is %" PRId64 "\nit must be from %" PRId64 " to %d%s", count,
                                    least, MOST_PIECES, least < 0 ? ", where -1 means without limit" : ""));
}

static bool check_part(const struct check *check, size_t p)
{
    const struct dw_cut_part *part = &check->request->parts[p];
    const bool length = check_length(check, place(check, "parts", p, "length"), part->length, 1);
    const bool width = check_length(check, place(check, "parts", p, "width"), part->width, 1);
    const bool sound = length && width;
    check_count(check, place(check, "parts", p, "count"), part->count, 1);
    const dw_length kerf = check->request->kerf;
    if (sound && dw_least(part->length, part->width) < kerf && kerf <= DW_LENGTH_MAX)
        input_error(check, "kerf-wide", place(check, "parts", p, part->length < kerf ? "length" : "width"),
                    dw_arena_format(check->arena, "the part is %s, less than the kerf of %s\ncheck the units of both",
                                    shown(check, dw_least(part->length, part->width)), shown(check, kerf)));
    return sound;
}

/* One direction of a sheet: its size, its two trims, and what they leave. */
static bool check_side(const struct check *check, size_t s, const char *field, dw_length size, size_t first_trim)
{
    bool sound = check_length(check, place(check, "sheets", s, field), size, 1);
    const dw_length *trim = check->request->sheets[s].trim;
    for (size_t t = first_trim; t < first_trim + 2; t++)
        sound &= check_length(check, dw_arena_format(check->arena, "sheets[%zu].trim[%zu]", s, t), trim[t], 0);
    if (!sound || trim[first_trim] + trim[first_trim + 1] < size)
        return sound;
    input_error(check, "trim-over", dw_arena_format(check->arena, "sheets[%zu].trim", s),
                dw_arena_format(check->arena, "the trims of %s and %s leave nothing of the %s of %s\ntrim less",
                                shown(check, trim[first_trim]), shown(check, trim[first_trim + 1]), field,
                                shown(check, size)));
    return false;
}

static bool check_sheet(const struct check *check, size_t s)
{
    const struct dw_cut_sheet *sheet = &check->request->sheets[s];
    const bool length = check_side(check, s, "length", sheet->length, 0);
    const bool width = check_side(check, s, "width", sheet->width, 2);
    const bool sound = length && width;
    check_amount(check, place(check, "sheets", s, "price"), sheet->price);
    check_amount(check, place(check, "sheets", s, "value"), sheet->value);
    check_count(check, place(check, "sheets", s, "count"), sheet->count, -1);
    return sound;
}

static void check_choice(const struct check *check, const char *address, int64_t chosen, const char *allowed, bool right)
{
    if (!right)
        input_error(check, "choice", address,
                    dw_arena_format(check->arena, "%" PRId64 " is no choice here\n%s", chosen, allowed));
}

static void check_choices(const struct check *check)
{
    const struct dw_cut_request *request = check->request;
    const int turns = request->turns;
    const int first = request->first_cut;
    check_choice(check, "turns", turns, "0, 2 or 3", turns == 0 || turns == 2 || turns == 3);
    check_choice(check, "first_cut", first, "-1, 0 for a rip or 1 for a crosscut", first >= -1 && first <= DW_CROSSCUT);
    check_choice(check, "patience", (int64_t)request->patience, "short, coffee or lunch", request->patience <= DW_LUNCH);
    check_choice(check, "work", request->work, "0 or more", request->work >= 0);
    check_choice(check, "threads", request->threads, "0 or more", request->threads >= 0);
}

/* How much a part overhangs what a trim leaves of a sheet, in one of its two positions. */
struct overhang {
    size_t sheet;
    bool turned;
    dw_length length, width; /* 0 where it fits */
};

static dw_length over(dw_length size, dw_length room)
{
    return dw_most(0, size - room);
}

static struct overhang overhang_on(const struct dw_cut_request *request, size_t p, size_t s, bool turned)
{
    const struct dw_cut_part *part = &request->parts[p];
    const struct dw_cut_sheet *sheet = &request->sheets[s];
    const dw_length length = turned ? part->width : part->length;
    const dw_length width = turned ? part->length : part->width;
    return (struct overhang){s, turned, over(length, sheet->length - sheet->trim[0] - sheet->trim[1]),
                             over(width, sheet->width - sheet->trim[2] - sheet->trim[3])};
}

/* The least overhang of a part over the sheets of which there are some (in_stock) or none (not in_stock), turned too
 * where `turning`. sheet == SIZE_MAX when there is no such sheet. */
static struct overhang least_overhang(const struct dw_cut_request *request, size_t p, bool in_stock, bool turning)
{
    struct overhang least = {SIZE_MAX, false, DW_LENGTH_MAX, DW_LENGTH_MAX};
    for (size_t s = 0; s < request->sheet_count; s++) {
        if ((request->sheets[s].count != 0) != in_stock)
            continue;
        for (int turned = 0; turned <= (turning ? 1 : 0); turned++) {
            const struct overhang next = overhang_on(request, p, s, turned == 1);
            if (least.sheet == SIZE_MAX || next.length + next.width < least.length + least.width)
                least = next;
        }
    }
    return least;
}

static bool fits(struct overhang overhang)
{
    return overhang.sheet != SIZE_MAX && overhang.length == 0 && overhang.width == 0;
}

/* What would help a part that is too large: a sheet of which there are none, a turn, or a smaller size. */
static const char *cure_for(const struct check *check, size_t p, struct overhang nearest)
{
    const struct dw_cut_request *request = check->request;
    const struct overhang absent = least_overhang(request, p, false, request->parts[p].turn);
    if (fits(absent))
        return dw_arena_format(check->arena, "sheets[%zu] would do, but there are none of it", absent.sheet);
    const struct overhang turned = least_overhang(request, p, true, true);
    if (fits(turned))
        return dw_arena_format(check->arena, "it would fit sheets[%zu] if it could be turned across the grain",
                               turned.sheet);
    const struct dw_cut_sheet *sheet = &request->sheets[nearest.sheet];
    return dw_arena_format(check->arena, "at most %s by %s comes out of sheets[%zu] after its trim",
                           shown(check, sheet->length - sheet->trim[0] - sheet->trim[1]),
                           shown(check, sheet->width - sheet->trim[2] - sheet->trim[3]), nearest.sheet);
}

static void check_room_for(const struct check *check, size_t p)
{
    const struct dw_cut_part *part = &check->request->parts[p];
    const struct overhang nearest = least_overhang(check->request, p, true, part->turn);
    const char *address = place(check, "parts", p, "");
    if (fits(nearest))
        return;
    if (nearest.sheet == SIZE_MAX) {
        dw_error(check->faults, DW_IMPOSSIBLE, "no-sheets", address, "there is not one sheet to cut it from\n%s",
                 "offer a sheet with a count");
        return;
    }
    const char *too_long = nearest.length == 0 ? "" : dw_arena_format(check->arena, "%s too long", shown(check, nearest.length));
    const char *too_wide = nearest.width == 0 ? "" : dw_arena_format(check->arena, "%s too wide", shown(check, nearest.width));
    dw_error(check->faults, DW_IMPOSSIBLE, "part-too-large", address,
             "the part of %s by %s fits no sheet: %s%s%s for the nearest, sheets[%zu]%s\n%s", shown(check, part->length),
             shown(check, part->width), too_long, nearest.length > 0 && nearest.width > 0 ? " and " : "", too_wide,
             nearest.sheet, nearest.turned ? " with the part turned" : "", cure_for(check, p, nearest));
}

/* Pieces and their area, each grown by the kerf; counts out of range have been reported and are left out. */
static void check_sums(const struct check *check)
{
    const struct dw_cut_request *request = check->request;
    int64_t pieces = 0;
    dw_area area = 0;
    bool overflow = false;
    for (size_t p = 0; p < request->part_count; p++) {
        const struct dw_cut_part *part = &request->parts[p];
        if (part->count < 1 || part->count > MOST_PIECES)
            continue;
        dw_area all = 0;
        pieces += part->count; /* below 10^6 parts times 10^6 pieces */
        overflow |= __builtin_mul_overflow(part->length + request->kerf, part->width + request->kerf, &all);
        overflow |= __builtin_mul_overflow(all, part->count, &all);
        overflow |= __builtin_add_overflow(area, all, &area);
    }
    if (pieces > MOST_PIECES)
        input_error(check, "pieces-over", "parts",
                    dw_arena_format(check->arena, "%" PRId64 " pieces are wanted\nat most %d in one request", pieces,
                                    MOST_PIECES));
    if (overflow)
        input_error(check, "area-over", "parts", "the area of all parts is too large to count\nsplit the request in two");
}

static bool check_lists(const struct check *check)
{
    const struct dw_cut_request *request = check->request;
    if (request->part_count == 0)
        input_error(check, "no-parts", "parts", "no part is wanted\nname at least one");
    if (request->sheet_count == 0)
        dw_error(check->faults, DW_IMPOSSIBLE, "no-sheets", "sheets", "there is no sheet to cut from\noffer at least one");
    if (request->part_count > MOST_KINDS || request->sheet_count > MOST_KINDS)
        input_error(check, "list-over", "", dw_arena_format(check->arena, "the lists are too long\nat most %d entries each",
                                                            MOST_KINDS));
    return request->part_count > 0 && request->part_count <= MOST_KINDS && request->sheet_count > 0 &&
           request->sheet_count <= MOST_KINDS;
}

/* Field by field first; what needs sound fields (the room for each part, the sums) only after them. The arena holds
 * nothing but the words of one part or sheet. */
static void check_body(void *context)
{
    const struct check *check = context;
    const struct dw_cut_request *request = check->request;
    check_choices(check);
    bool sound = check_length(check, "kerf", request->kerf, 0);
    check_length(check, "keep.least_length", request->keep.least_length, 0);
    check_length(check, "keep.least_width", request->keep.least_width, 0);
    if (!check_lists(check))
        return;
    for (size_t p = 0; p < request->part_count; p++, dw_arena_clear(check->arena))
        sound &= check_part(check, p);
    for (size_t s = 0; s < request->sheet_count; s++, dw_arena_clear(check->arena))
        sound &= check_sheet(check, s);
    if (!sound)
        return;
    for (size_t p = 0; p < request->part_count; p++, dw_arena_clear(check->arena))
        check_room_for(check, p);
    check_sums(check);
}

bool dw_cut_check_request(const struct dw_cut_request *request, struct dw_faults *faults)
{
    const size_t before = faults->errors;
    struct check check = {.request = request, .faults = faults, .arena = dw_arena_new()};
    if (check.arena == NULL || !dw_arena_guard(check.arena, check_body, &check))
        dw_error(faults, DW_SURROUNDINGS, "memory", "", "memory ran out while the request was checked");
    dw_arena_free(check.arena);
    return faults->errors == before;
}
