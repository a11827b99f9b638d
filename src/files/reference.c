/* reference.c - the reference of the job file for people (Markdown), from the tables of keys. */
#include <drawerwright/files.h>
#include <drawerwright/keys.h>
#include <drawerwright/memory.h>

#include <string.h>

#include "objects.h"

static const char OPENING[] =
    "# The job file\n"
    "\n"
    "A job is one order of work, written as JSON in UTF-8 (at most 4 MiB). This page lists every key; `docs/job.schema.json` says the same to an\n"
    "editor. Both are made from the tables that the program itself reads by.\n"
    "\n"
    "The least that makes a job:\n"
    "\n"
    "```json\n"
    "{\n"
    "  \"units\": \"in\",\n"
    "  \"shop\": {\n"
    "    \"materials\": [\n"
    "      { \"id\": \"ply 3/4\", \"thickness\": \"23/32\", \"sheets\": [{ \"id\": \"4x8\", \"length\": 96, \"width\": 48, \"price\": \"92.00\" }] },\n"
    "      { \"id\": \"ply 1/2\", \"thickness\": \"15/32\", \"sheets\": [{ \"id\": \"4x8\", \"length\": 96, \"width\": 48, \"price\": \"68.00\" }] },\n"
    "      { \"id\": \"ply 1/4\", \"thickness\": \"7/32\", \"sheets\": [{ \"id\": \"4x8\", \"length\": 96, \"width\": 48, \"price\": \"41.00\" }] }\n"
    "    ],\n"
    "    \"slides\": [{ \"id\": \"side\", \"lengths\": [12, 14, 16, 18, 20, 22] }]\n"
    "  },\n"
    "  \"cases\": [\n"
    "    {\n"
    "      \"name\": \"Bench\",\n"
    "      \"opening\": { \"width\": [\"15 1/16\", 15, \"14 15/16\"], \"height\": \"24 1/2\", \"depth\": 22 },\n"
    "      \"fit\": \"inset\",\n"
    "      \"box\": { \"sides\": \"ply 1/2\", \"bottom\": \"ply 1/4\" },\n"
    "      \"front\": { \"material\": \"ply 3/4\" },\n"
    "      \"banks\": [{ \"drawers\": [{ \"height\": \"5 3/4\", \"rail_below\": \"3/4\" }, {}, {}, {}] }]\n"
    "    }\n"
    "  ]\n"
    "}\n"
    "```\n"
    "\n"
    "## How values are written\n"
    "\n"
    "| written as | examples | meaning |\n"
    "| --- | --- | --- |\n"
    "| length | `\"24 1/2\"`, `\"24-1/2\\\"\"`, `\"2' 0-1/2\\\"\"`, `24.5`, `\"622 mm\"`, `\"15,5 mm\"` | a bare number is in the job's units (a shop may have its own); "
    "exact, or refused |\n"
    "| readings | `\"24 1/2\"`, `[\"15 1/16\", 15, \"14 15/16\"]` | a size as drawn, or as measured at several places: the least counts |\n"
    "| money | `\"68.00\"`, `68` | in the currency of the shop |\n"
    "| weight | `\"100 lb\"`, `\"45 kg\"` | with its unit |\n"
    "| pressure | `\"15 lb/ft2\"`, `\"8 GPa\"`, `\"1240000 psi\"` | with its unit |\n"
    "| density | `\"680 kg/m3\"`, `\"42 lb/ft3\"` | with its unit |\n"
    "| percent | `\"8.25 %\"`, `8.25` | |\n"
    "| material, slide, banding | `\"ply 1/2\"` | the id of one in the shop's list |\n"
    "\n"
    "A key that is not known, stands twice or holds the wrong kind of value is a fault with its place; all faults of a file are told at once.\n"
    "Numbers are taken by their digits, so 0.1 is exactly 0.1.\n"
    "\n"
    "The shop may stand in a file of its own beside the job: `\"shop\": \"shop.json\"`. Such a file must say its `units`.\n"
    "\n"
    "## Lists of parts\n"
    "\n"
    "`drawerwright plan PARTS.csv --shop SHOP.json` plans a bare list of parts. The first line names the columns, in any order: `name`, `material`,\n"
    "`length`, `width` and, where wanted, `count`, `grain`, `group`, `units` (of bare lengths, else the shop's). Fields are parted by commas,\n"
    "semicolons or tabs (RFC 4180 otherwise). The `parts.csv` that a plan writes can be read again so. A row is named\n"
    "in what is told of it as a part of a job would be: `parts[0]` is the first row behind the line of names.\n"
    "\n"
    "## Keys\n"
    "\n"
    "In the column *unless given*, two values stand for inch and millimeter jobs. A default without a source is our own choice.\n";

static const char *kind_words(struct dw_arena *arena, const struct dw_key *key)
{
    switch (key->kind) {
    case DW_KEY_TEXT:
        return "text";
    case DW_KEY_LENGTH:
        return "length";
    case DW_KEY_MONEY:
        return "money";
    case DW_KEY_MASS:
        return "weight";
    case DW_KEY_PRESSURE:
        return "pressure";
    case DW_KEY_DENSITY:
        return "density";
    case DW_KEY_PERCENT:
        return "percent";
    case DW_KEY_COUNT:
        return dw_arena_format(arena, "whole number, %lld to %lld", (long long)key->least, (long long)key->most);
    case DW_KEY_YES_NO:
        return "true or false";
    case DW_KEY_READINGS:
        return "readings";
    case DW_KEY_MATERIAL:
        return "material";
    case DW_KEY_SLIDE:
        return "slide";
    case DW_KEY_BANDING:
        return "banding";
    case DW_KEY_OBJECT:
        return dw_arena_format(arena, "[%s](#%s)", key->object->name, dwi_object_word(arena, key->object));
    case DW_KEY_LIST:
        return dw_arena_format(arena, "array of [%s](#%s)", key->object->name, dwi_object_word(arena, key->object));
    case DW_KEY_WORD:
        break;
    }
    struct dw_text words = dw_text_in(arena);
    for (const struct dw_word *word = key->words; word->word != NULL; word++)
        dw_text_addf(&words, "%s`\"%s\"`", word == key->words ? "" : ", ", word->word);
    return words.bytes;
}

static const char *show_limit(struct dw_arena *arena, dw_length limit)
{
    if (limit % DW_MM == 0)
        return dw_length_show_unit(arena, limit, (struct dw_length_style){.unit = DW_MILLIMETER, .decimals = -1});
    return "";
}

/* "0 to 25 mm"; a limit of a single unit only means: more than nothing. */
static const char *range_words(struct dw_arena *arena, const struct dw_key *key)
{
    const bool length = key->kind == DW_KEY_LENGTH || key->kind == DW_KEY_READINGS;
    if (!length || key->most == 0)
        return "";
    if (key->least == 1)
        return dw_arena_format(arena, ", more than 0, at most %s", show_limit(arena, key->most));
    return dw_arena_format(arena, ", %s to %s", key->least == 0 ? "0" : show_limit(arena, key->least), show_limit(arena, key->most));
}

static const char *default_words(struct dw_arena *arena, const struct dw_key *key)
{
    if (key->required)
        return "must be given";
    if (key->rule != NULL)
        return key->rule;
    if (key->kind == DW_KEY_OBJECT)
        return "key by key";
    if (key->inch == NULL || key->inch[0] == '\0')
        return "nothing";
    if (strcmp(key->inch, key->metric) == 0)
        return key->inch;
    return dw_arena_format(arena, "%s; %s", key->inch, key->metric);
}

static void write_key(struct dw_text *out, const struct dw_key *key)
{
    struct dw_arena *arena = out->arena;
    const char *source = key->source == NULL || key->source[0] == '\0' ? "" : dw_arena_format(arena, " (%s)", key->source);
    dw_text_addf(out, "| `%s` | %s%s | %s%s | %s | `%s` |\n", key->key, kind_words(arena, key), range_words(arena, key), default_words(arena, key), source,
                 key->meaning, key->example);
}

static void write_object(struct dw_text *out, const struct dw_object *object)
{
    dw_text_addf(out, "\n<a id=\"%s\"></a>\n### %s\n\n%s.\n", dwi_object_word(out->arena, object), object->name, object->meaning);
    if (object->one_for_all)
        dw_text_add(out, "A bare value stands for all keys at once.\n");
    if (object->bare[0] != NULL)
        dw_text_addf(out, "A bare value stands for `%s`%s%s%s.\n", object->bare[0], object->bare[1] == NULL ? "" : " or `",
                     object->bare[1] == NULL ? "" : object->bare[1], object->bare[1] == NULL ? "" : "`");
    if (object->bare_count != NULL)
        dw_text_addf(out, "A bare number in place of the array means %s.\n", object->bare_count);
    dw_text_add(out, "\n| key | written as | unless given | meaning | example |\n| --- | --- | --- | --- | --- |\n");
    for (size_t i = 0; i < object->count; i++)
        write_key(out, &object->keys[i]);
}

void dw_job_reference(struct dw_text *out)
{
    size_t count = 0;
    const struct dw_object *const *objects = dwi_objects(out->arena, &count);
    dw_text_add(out, OPENING);
    for (size_t i = 0; i < count; i++)
        write_object(out, objects[i]);
}
