/* schema.c - the JSON Schema (draft 2020-12) of job files, from the tables of keys.
 *
 * The schema says what JSON can say: which keys, which types, which words, which whole numbers. What a length or a price is, and what
 * contradicts itself, the reader checks.
 */
#include <drawerwright/files.h>
#include <drawerwright/keys.h>
#include <drawerwright/memory.h>

#include <string.h>

#include "json_write.h"
#include "objects.h"

static void write_ref(struct dwi_json *json, const char *key, const char *name)
{
    dwi_json_flat_object(json, key);
    dwi_json_string(json, "$ref", dw_arena_format(json->out->arena, "#/$defs/%s", name));
    dwi_json_end_object(json);
}

static void write_type(struct dwi_json *json, const char *type)
{
    dwi_json_string(json, "type", type);
}

static void write_words(struct dwi_json *json, const struct dw_word *words)
{
    dwi_json_flat_array(json, "enum");
    for (; words->word != NULL; words++)
        dwi_json_string(json, NULL, words->word);
    dwi_json_end_array(json);
}

static void write_whole_number(struct dwi_json *json, int64_t least, int64_t most)
{
    write_type(json, "integer");
    dwi_json_integer(json, "minimum", least);
    dwi_json_integer(json, "maximum", most);
}

static void write_list(struct dwi_json *json, const struct dw_key *key)
{
    const char *word = dwi_object_word(json->out->arena, key->object);
    if (key->object->bare_count == NULL) {
        write_type(json, "array");
        write_ref(json, "items", word);
        return;
    }
    dwi_json_array(json, "anyOf");
    dwi_json_flat_object(json, NULL);
    write_type(json, "array");
    write_ref(json, "items", word);
    dwi_json_end_object(json);
    dwi_json_flat_object(json, NULL);
    write_whole_number(json, 1, 1000);
    dwi_json_end_object(json);
    dwi_json_end_array(json);
}

/* What a value of this key must be, into the open object. */
static void write_value(struct dwi_json *json, const struct dw_key *key)
{
    static const char *const defined[] = {[DW_KEY_LENGTH] = "#/$defs/length",     [DW_KEY_MONEY] = "#/$defs/money",
                                          [DW_KEY_PERCENT] = "#/$defs/percent",   [DW_KEY_READINGS] = "#/$defs/readings",
                                          [DW_KEY_MASS] = "#/$defs/amount",       [DW_KEY_PRESSURE] = "#/$defs/amount",
                                          [DW_KEY_DENSITY] = "#/$defs/amount"};
    switch (key->kind) {
    case DW_KEY_LENGTH:
    case DW_KEY_MONEY:
    case DW_KEY_PERCENT:
    case DW_KEY_READINGS:
    case DW_KEY_MASS:
    case DW_KEY_PRESSURE:
    case DW_KEY_DENSITY:
        dwi_json_string(json, "$ref", defined[key->kind]);
        return;
    case DW_KEY_TEXT:
    case DW_KEY_MATERIAL:
    case DW_KEY_SLIDE:
    case DW_KEY_BANDING:
        write_type(json, "string");
        return;
    case DW_KEY_COUNT:
        write_whole_number(json, key->least, key->most);
        return;
    case DW_KEY_YES_NO:
        write_type(json, "boolean");
        return;
    case DW_KEY_WORD:
        write_words(json, key->words);
        return;
    case DW_KEY_LIST:
        write_list(json, key);
        return;
    case DW_KEY_OBJECT:
        dwi_json_string(json, "$ref", dw_arena_format(json->out->arena, "#/$defs/%s", dwi_object_word(json->out->arena, key->object)));
        return;
    }
}

/* "between fronts; 1/8 in, 3 mm unless given" */
static const char *describe(struct dw_arena *arena, const struct dw_key *key)
{
    if (key->rule != NULL)
        return dw_arena_format(arena, "%s. Unless given: %s.", key->meaning, key->rule);
    if (key->inch == NULL || key->inch[0] == '\0')
        return dw_arena_format(arena, "%s.", key->meaning);
    if (strcmp(key->inch, key->metric) == 0)
        return dw_arena_format(arena, "%s. Unless given: %s.", key->meaning, key->inch);
    return dw_arena_format(arena, "%s. Unless given: %s in an inch job, %s in a millimeter job.", key->meaning, key->inch, key->metric);
}

static void write_properties(struct dwi_json *json, const struct dw_object *object)
{
    dwi_json_object(json, "properties");
    for (size_t i = 0; i < object->count; i++) {
        const struct dw_key *key = &object->keys[i];
        dwi_json_object(json, key->key);
        dwi_json_string(json, "description", describe(json->out->arena, key));
        write_value(json, key);
        dwi_json_flat_array(json, "examples");
        dwi_json_raw(json, NULL, key->example);
        dwi_json_end_array(json);
        dwi_json_end_object(json);
    }
    dwi_json_end_object(json);
}

static void write_required(struct dwi_json *json, const struct dw_object *object)
{
    dwi_json_flat_array(json, "required");
    for (size_t i = 0; i < object->count; i++)
        if (object->keys[i].required)
            dwi_json_string(json, NULL, object->keys[i].key);
    dwi_json_end_array(json);
}

/* Values that may stand in place of the object. */
static void write_bare(struct dwi_json *json, const struct dw_object *object)
{
    const char *const *bare = object->bare;
    for (size_t i = 0; i < 2 && bare[i] != NULL; i++) {
        dwi_json_flat_object(json, NULL);
        write_value(json, dw_object_key(object, bare[i]));
        dwi_json_end_object(json);
    }
    if (object->one_for_all) {
        dwi_json_flat_object(json, NULL);
        write_value(json, &object->keys[0]);
        dwi_json_end_object(json);
    }
    if (object == &dw_shop_object) {
        dwi_json_flat_object(json, NULL);
        write_type(json, "string");
        dwi_json_end_object(json);
    }
}

static void write_object(struct dwi_json *json, const struct dw_object *object)
{
    const bool bare = object->bare[0] != NULL || object->one_for_all || object == &dw_shop_object;
    dwi_json_object(json, dwi_object_word(json->out->arena, object));
    dwi_json_string(json, "description", object->meaning);
    if (bare) {
        dwi_json_array(json, "anyOf");
        dwi_json_object(json, NULL);
    }
    write_type(json, "object");
    write_properties(json, object);
    write_required(json, object);
    dwi_json_bool(json, "additionalProperties", false);
    if (bare) {
        dwi_json_end_object(json);
        write_bare(json, object);
        dwi_json_end_array(json);
    }
    dwi_json_end_object(json);
}

static void write_string_or_number(struct dwi_json *json, const char *name, const char *meaning, bool number)
{
    dwi_json_object(json, name);
    dwi_json_string(json, "description", meaning);
    dwi_json_flat_array(json, "type");
    dwi_json_string(json, NULL, "string");
    if (number)
        dwi_json_string(json, NULL, "number");
    dwi_json_end_array(json);
    dwi_json_end_object(json);
}

static void write_amounts(struct dwi_json *json)
{
    write_string_or_number(json, "length", "A length as makers write it: \"24 1/2\", 24.5, \"622 mm\"; a bare number is in the units of job or shop.", true);
    write_string_or_number(json, "money", "An amount of money: \"68.00\", 68.", true);
    write_string_or_number(json, "percent", "A percentage: \"8.25 %\", 8.25.", true);
    write_string_or_number(json, "amount", "An amount with its unit: \"100 lb\", \"15 lb/ft2\", \"680 kg/m3\".", false);
    dwi_json_object(json, "readings");
    dwi_json_string(json, "description", "One length as drawn, or several as measured, of which the least counts.");
    dwi_json_array(json, "anyOf");
    write_ref(json, NULL, "length");
    dwi_json_flat_object(json, NULL);
    write_type(json, "array");
    write_ref(json, "items", "length");
    dwi_json_integer(json, "minItems", 1);
    dwi_json_integer(json, "maxItems", 100);
    dwi_json_end_object(json);
    dwi_json_end_array(json);
    dwi_json_end_object(json);
}

void dw_job_schema(struct dw_text *out)
{
    struct dwi_json json = dwi_json_to(out);
    size_t count = 0;
    const struct dw_object *const *objects = dwi_objects(out->arena, &count);
    dwi_json_object(&json, NULL);
    dwi_json_string(&json, "$schema", "https://json-schema.org/draft/2020-12/schema");
    dwi_json_string(&json, "title", "A drawerwright job");
    dwi_json_string(&json, "$ref", "#/$defs/job");
    dwi_json_object(&json, "$defs");
    write_amounts(&json);
    for (size_t i = 0; i < count; i++)
        write_object(&json, objects[i]);
    dwi_json_end_object(&json);
    dwi_json_end_object(&json);
    dwi_json_finish(&json);
}
