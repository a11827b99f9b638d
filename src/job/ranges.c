/* ranges.c - values out of their row's limits, and values that are missing, each with its place and a cure. A length that would be
 * in range in the other unit is asked about: `622` in an inch job is most likely 622 mm. */
#include "fields.h"

#include <string.h>

#include <drawerwright/address.h>
#include <drawerwright/memory.h>

static struct dw_length_style style_of(enum dw_unit unit)
{
    return (struct dw_length_style){.unit = unit, .denominator = 128, .decimals = -1};
}

static bool within(const struct dw_key *key, int64_t number)
{
    return (key->least == 0 && key->most == 0) || (number >= key->least && number <= key->most);
}

/* The same figure in the other unit, when it is exact and would be in range: the question to ask. "" otherwise. */
static const char *ask_about_unit(const struct dwi_check *check, const struct dw_key *key, dw_length length)
{
    const dw_length from = check->unit == DW_IN ? DW_INCH : DW_MM;
    const dw_length to = check->unit == DW_IN ? DW_MM : DW_INCH;
    const enum dw_unit other = check->unit == DW_IN ? DW_MILLIMETER : DW_IN;
    if (length < 0 || length > DW_LENGTH_MAX)
        return "";
    /* length <= 1.7e9 and to <= 406 400: the product stays under 10^15 */
    if (length * to % from != 0 || !within(key, length * to / from))
        return "";
    return dw_arena_format(check->arena, "did you mean %s?",
                           dw_length_show_unit(check->arena, length * to / from, style_of(other)));
}

/* "over 15 m" reads better than "over 590 71/128 in". */
static const char *show_limit(const struct dwi_check *check, dw_length limit)
{
    const struct dw_length_style style = style_of(check->unit);
    if (limit % (1000 * DW_MM) == 0 && limit >= 1000 * DW_MM)
        return dw_arena_format(check->arena, "%d m", (int)(limit / (1000 * DW_MM)));
    if (dw_length_is_exact(limit, style))
        return dw_length_show_unit(check->arena, limit, style);
    const struct dw_length_style near = {.unit = check->unit, .denominator = 16, .decimals = 1};
    return dw_arena_format(check->arena, "%s (%s)", dw_length_show_unit(check->arena, limit, style_of(check->unit == DW_IN ? DW_MILLIMETER : DW_IN)),
                           dw_length_show_unit(check->arena, limit, near));
}

static void check_length(const struct dwi_check *check, const struct dw_key *key, dw_length length, const char *address)
{
    if (within(key, length))
        return;
    const char *question = ask_about_unit(check, key, length);
    const bool over = length > key->most;
    const char *limit = show_limit(check, over ? key->most : key->least);
    if (length == 0 && key->least > 0)
        dw_error(check->faults, DW_INPUT, "out-of-range", address, "it is 0\n%s, at least %s", key->meaning,
                 key->least < DW_MM / 10 ? "more than 0" : limit);
    else
        dw_error(check->faults, DW_INPUT, "out-of-range", address, "%s is %s %s\n%s",
                 dw_length_show_unit(check->arena, length, style_of(check->unit)), over ? "over" : "under", limit,
                 question[0] != '\0' ? question : dw_arena_format(check->arena, "%s %s", over ? "at most" : "at least", limit));
}

static void check_number(const struct dwi_check *check, const struct dw_key *key, int64_t number, const char *address)
{
    if (key->kind == DW_KEY_LENGTH)
        check_length(check, key, number, address);
    else if (!within(key, number + key->less) && key->kind == DW_KEY_COUNT)
        dw_error(check->faults, DW_INPUT, "out-of-range", address, "%lld is out of range\nfrom %lld to %lld",
                 (long long)number + key->less, (long long)key->least, (long long)key->most);
    else if (!within(key, number))
        dw_error(check->faults, DW_INPUT, "out-of-range", address, "it is out of range\n%s, such as %s", key->meaning, key->example);
}

static void check_readings(const struct dwi_check *check, const struct dw_key *key, const void *thing, const char *address)
{
    struct dw_readings readings;
    memcpy(&readings, (const char *)thing + key->offset, sizeof readings);
    for (size_t i = 0; i < readings.count; i++)
        check_length(check, key, readings.at[i], dw_address_index(check->arena, address, i));
}

static bool is_narrow(const struct dw_key *key)
{
    return key->kind == DW_KEY_WORD || key->kind == DW_KEY_YES_NO || key->kind == DW_KEY_TEXT || key->kind == DW_KEY_MATERIAL ||
           key->kind == DW_KEY_SLIDE || key->kind == DW_KEY_BANDING;
}

/* The things of a list are reached through the pointer that the struct holds; nothing is changed. */
static void check_list(const struct dwi_check *check, const struct dw_key *key, const void *thing, const char *address)
{
    const char *items = NULL;
    memcpy(&items, (const char *)thing + key->offset, sizeof items);
    for (size_t i = 0; i < dwi_list_count(key, thing); i++)
        dwi_check_ranges(check, key->object, items + i * key->object->size, dw_address_index(check->arena, address, i));
}

/* A shop may count in the other unit than its job. */
static void check_object(const struct dwi_check *check, const struct dw_key *key, const void *thing, const char *address)
{
    const void *inside = (const char *)thing + key->offset;
    struct dwi_check own = *check;
    if (key->object == &dw_shop_object)
        own.unit = ((const struct dw_shop *)inside)->unit;
    dwi_check_ranges(&own, key->object, inside, address);
}

void dwi_check_ranges(const struct dwi_check *check, const struct dw_object *object, const void *thing, const char *address)
{
    for (size_t i = 0; i < object->count; i++) {
        const struct dw_key *key = &object->keys[i];
        const char *place = dw_address_key(check->arena, address, key->key);
        if (key->kind == DW_KEY_OBJECT)
            check_object(check, key, thing, place);
        else if (check->require && key->required && !dw_key_is_set(key, thing))
            dw_error(check->faults, DW_INPUT, "missing", place, "it is missing\n%s, such as %s", key->meaning, key->example);
        else if (key->kind == DW_KEY_LIST)
            check_list(check, key, thing, place);
        else if (key->kind == DW_KEY_READINGS)
            check_readings(check, key, thing, place);
        else if (!is_narrow(key) && dw_key_is_set(key, thing))
            check_number(check, key, dw_key_number(key, thing), place);
    }
}
