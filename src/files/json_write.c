/* json_write.c - see json_write.h. Strings are valid UTF-8 by the time they come here; control characters and quotes are escaped. */
#include "json_write.h"

#include <assert.h>

#include <drawerwright/files.h>

struct dwi_json dwi_json_to(struct dw_text *out)
{
    return (struct dwi_json){.out = out};
}

static bool is_flat(const struct dwi_json *json)
{
    return json->flat_from != 0 && json->depth >= json->flat_from;
}

static void break_line(struct dwi_json *json)
{
    dw_text_add_char(json->out, '\n');
    for (int i = 0; i < json->depth; i++)
        dw_text_add(json->out, "  ");
}

void dw_json_quote(const char *value, struct dw_text *out)
{
    dw_text_add_char(out, '"');
    for (; *value != '\0'; value++) {
        const unsigned char c = (unsigned char)*value;
        if (c == '"' || c == '\\')
            dw_text_addf(out, "\\%c", c);
        else if (c < 0x20)
            dw_text_addf(out, "\\u%04x", c);
        else
            dw_text_add_char(out, *value);
    }
    dw_text_add_char(out, '"');
}

/* Comma, line and key before a value. */
static void lead(struct dwi_json *json, const char *key)
{
    if (json->depth > 0) {
        if (json->filled[json->depth])
            dw_text_add_char(json->out, ',');
        if (!is_flat(json))
            break_line(json);
        else if (json->filled[json->depth])
            dw_text_add_char(json->out, ' ');
        json->filled[json->depth] = true;
    }
    if (key != NULL) {
        dw_json_quote(key, json->out);
        dw_text_add(json->out, ": ");
    }
}

static void open_bracket(struct dwi_json *json, const char *key, char bracket, bool flat)
{
    lead(json, key);
    dw_text_add_char(json->out, bracket);
    json->depth++;
    assert(json->depth < DWI_JSON_DEPTH);
    json->filled[json->depth] = false;
    if (flat && json->flat_from == 0)
        json->flat_from = json->depth;
}

static void close_bracket(struct dwi_json *json, char bracket)
{
    const bool flat = is_flat(json);
    const bool filled = json->filled[json->depth];
    if (json->flat_from == json->depth)
        json->flat_from = 0;
    json->depth--;
    if (filled && !flat)
        break_line(json);
    dw_text_add_char(json->out, bracket);
}

void dwi_json_object(struct dwi_json *json, const char *key)
{
    open_bracket(json, key, '{', false);
}

void dwi_json_array(struct dwi_json *json, const char *key)
{
    open_bracket(json, key, '[', false);
}

void dwi_json_flat_object(struct dwi_json *json, const char *key)
{
    open_bracket(json, key, '{', true);
}

void dwi_json_flat_array(struct dwi_json *json, const char *key)
{
    open_bracket(json, key, '[', true);
}

void dwi_json_end_object(struct dwi_json *json)
{
    close_bracket(json, '}');
}

void dwi_json_end_array(struct dwi_json *json)
{
    close_bracket(json, ']');
}

void dwi_json_string(struct dwi_json *json, const char *key, const char *value)
{
    lead(json, key);
    dw_json_quote(value, json->out);
}

void dwi_json_integer(struct dwi_json *json, const char *key, int64_t value)
{
    lead(json, key);
    dw_text_addf(json->out, "%lld", (long long)value);
}

void dwi_json_bool(struct dwi_json *json, const char *key, bool value)
{
    lead(json, key);
    dw_text_add(json->out, value ? "true" : "false");
}

void dwi_json_null(struct dwi_json *json, const char *key)
{
    lead(json, key);
    dw_text_add(json->out, "null");
}

void dwi_json_raw(struct dwi_json *json, const char *key, const char *value)
{
    lead(json, key);
    dw_text_add(json->out, value);
}

void dwi_json_finish(struct dwi_json *json)
{
    dw_text_add_char(json->out, '\n');
}
