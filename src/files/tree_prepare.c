/* tree_prepare.c - what stands between a file and cJSON.
 *
 * cJSON reads more than JSON (01, a raw newline in a string, stray bytes) and less of it than we need (a number becomes a double and its
 * digits are lost). So a strict pass over the text comes first: RFC 8259 to the letter, clean UTF-8, no control characters even when
 * written as escapes, bounded depth. It writes the text again with each number n as the string "\u0001n"; as no other string can hold
 * that character, the reader of the tree knows a number from a string and has its very digits.
 */
#include <string.h>

#include <drawerwright/fault.h>
#include <drawerwright/files.h>
#include <drawerwright/memory.h>
#include <drawerwright/text.h>

#include "tree.h"

const struct dwi_limits dwi_job_limits = {.bytes = DW_FILE_MOST, .depth = DW_DEPTH_MOST};
const struct dwi_limits dwi_plan_limits = {.bytes = DW_PLAN_MOST, .depth = DW_PLAN_DEPTH_MOST};

struct scan {
    const char *start, *at, *end;
    struct dw_text out;
    int depth, depth_most;
    const char *why; /* first thing that is wrong; NULL */
};

static bool scan_value(struct scan *scan);

static bool refuse(struct scan *scan, const char *why)
{
    if (scan->why == NULL)
        scan->why = why;
    return false;
}

static bool at_end(const struct scan *scan)
{
    return scan->at >= scan->end;
}

static void skip_space(struct scan *scan)
{
    while (!at_end(scan) && (*scan->at == ' ' || *scan->at == '\n' || *scan->at == '\r' || *scan->at == '\t'))
        scan->at++;
}

/* Copies one byte over. */
static void take(struct scan *scan)
{
    dw_text_add_char(&scan->out, *scan->at++);
}

static bool take_if(struct scan *scan, char c)
{
    if (at_end(scan) || *scan->at != c)
        return false;
    take(scan);
    return true;
}

static bool is_digit(const struct scan *scan)
{
    return !at_end(scan) && *scan->at >= '0' && *scan->at <= '9';
}

static bool take_digits(struct scan *scan)
{
    if (!is_digit(scan))
        return refuse(scan, "expected a digit");
    while (is_digit(scan))
        take(scan);
    return true;
}

static bool scan_number(struct scan *scan)
{
    dw_text_add(&scan->out, "\"\\u0001");
    (void)take_if(scan, '-');
    if (take_if(scan, '0')) {
        if (is_digit(scan))
            return refuse(scan, "expected no leading zeros");
    } else if (!take_digits(scan)) {
        return false;
    }
    if (take_if(scan, '.') && !take_digits(scan))
        return false;
    if (take_if(scan, 'e') || take_if(scan, 'E')) {
        if (!take_if(scan, '+'))
            (void)take_if(scan, '-');
        if (!take_digits(scan))
            return false;
    }
    dw_text_add_char(&scan->out, '"');
    return true;
}

/* Four hexadecimal digits at `at`; -1 when they are none. */
static long hex_at(const struct scan *scan, const char *at)
{
    long value = 0;
    if (scan->end - at < 4)
        return -1;
    for (int i = 0; i < 4; i++) {
        const char c = at[i];
        if (c >= '0' && c <= '9')
            value = value * 16 + (c - '0');
        else if (c >= 'a' && c <= 'f')
            value = value * 16 + (c - 'a' + 10);
        else if (c >= 'A' && c <= 'F')
            value = value * 16 + (c - 'A' + 10);
        else
            return -1;
    }
    return value;
}

/* At the u of \u....: a character that may stand in a text, surrogates in pairs. */
static bool scan_unicode(struct scan *scan)
{
    const long high = hex_at(scan, scan->at + 1);
    size_t bytes = 5;
    if (high < 0)
        return refuse(scan, "expected four hexadecimal digits");
    if (high < 0x20 || (high >= 0x7F && high < 0xA0))
        return refuse(scan, "control characters are not used here");
    if (high >= 0xDC00 && high <= 0xDFFF)
        return refuse(scan, "half of a character");
    if (high >= 0xD800 && high <= 0xDBFF) {
        const bool pair = scan->end - scan->at >= 11 && scan->at[5] == '\\' && scan->at[6] == 'u';
        const long low = pair ? hex_at(scan, scan->at + 7) : -1;
        if (low < 0xDC00 || low > 0xDFFF)
            return refuse(scan, "half of a character");
        bytes = 11;
    }
    while (bytes-- > 0)
        take(scan);
    return true;
}

static bool scan_escape(struct scan *scan)
{
    take(scan);
    if (at_end(scan))
        return refuse(scan, "the string has no end");
    if (*scan->at == 'u')
        return scan_unicode(scan);
    if (*scan->at == 'b' || *scan->at == 'f' || *scan->at == 'n' || *scan->at == 'r' || *scan->at == 't')
        return refuse(scan, "control characters are not used here");
    if (*scan->at != '"' && *scan->at != '\\' && *scan->at != '/')
        return refuse(scan, "no such escape");
    take(scan);
    return true;
}

static bool scan_string(struct scan *scan)
{
    if (!take_if(scan, '"'))
        return refuse(scan, "expected a string in double quotes");
    for (;;) {
        if (at_end(scan) || *scan->at == '\n')
            return refuse(scan, "the string has no end");
        if ((unsigned char)*scan->at < 0x20)
            return refuse(scan, "control characters are not used here");
        if (take_if(scan, '"'))
            return true;
        if (*scan->at == '\\') {
            if (!scan_escape(scan))
                return false;
        } else {
            take(scan);
        }
    }
}

static bool scan_member(struct scan *scan)
{
    skip_space(scan);
    if (!scan_string(scan))
        return false;
    skip_space(scan);
    if (!take_if(scan, ':'))
        return refuse(scan, "expected a colon behind the key");
    return scan_value(scan);
}

/* An object or array, from its opening bracket on. */
static bool scan_bracket(struct scan *scan, char close, bool (*scan_one)(struct scan *scan), const char *expected)
{
    take(scan);
    if (++scan->depth > scan->depth_most)
        return refuse(scan, "nested too deeply");
    skip_space(scan);
    if (take_if(scan, close)) {
        scan->depth--;
        return true;
    }
    do {
        if (!scan_one(scan))
            return false;
        skip_space(scan);
    } while (take_if(scan, ','));
    if (!take_if(scan, close))
        return refuse(scan, expected);
    scan->depth--;
    return true;
}

static bool scan_literal(struct scan *scan, const char *word)
{
    const size_t length = strlen(word);
    if ((size_t)(scan->end - scan->at) < length || memcmp(scan->at, word, length) != 0)
        return refuse(scan, "expected a value: a string in double quotes, a number, true, false, an object or an array");
    dw_text_add(&scan->out, word);
    scan->at += length;
    return true;
}

static bool scan_value(struct scan *scan)
{
    skip_space(scan);
    if (at_end(scan))
        return refuse(scan, "the file ends too early");
    switch (*scan->at) {
    case '{':
        return scan_bracket(scan, '}', scan_member, "expected a comma or }");
    case '[':
        return scan_bracket(scan, ']', scan_value, "expected a comma or ]");
    case '"':
        return scan_string(scan);
    case 't':
        return scan_literal(scan, "true");
    case 'f':
        return scan_literal(scan, "false");
    case '-':
        return scan_number(scan);
    default:
        return is_digit(scan) ? scan_number(scan) : scan_literal(scan, "null");
    }
}

/* What most likely was meant, by what stands at the place reached. */
static const char *cure_for(const struct scan *scan)
{
    const char *before = scan->at;
    while (before > scan->start && strchr(" \t\r\n", before[-1]) != NULL)
        before--;
    const bool behind_comma = before > scan->start && before[-1] == ',';
    const char here = at_end(scan) ? '\0' : *scan->at;
    if (scan->at == scan->start && at_end(scan))
        return "a file that is not empty";
    if (behind_comma && (here == '}' || here == ']'))
        return "no comma behind the last entry";
    if (here == '/' || here == '#')
        return "no comments, which JSON has not";
    if (here == '\'' || (here >= 'A' && here <= 'Z') || (here >= 'a' && here <= 'z'))
        return "double quotes round keys, words and lengths";
    if (scan->depth > scan->depth_most)
        return "fewer objects and arrays within one another";
    return "a file in JSON, encoded in UTF-8";
}

/* Adds a fault at the place reached, in lines and in characters, both from 1. */
static void report(const struct scan *scan, const char *why, const char *cure, const char *what, struct dw_faults *faults)
{
    long line = 1;
    long column = 1;
    for (const char *at = scan->start; at < scan->at; at++) {
        if (*at == '\n') {
            line++;
            column = 1;
        } else if (((unsigned char)*at & 0xC0U) != 0x80U) {
            column++;
        }
    }
    dw_error(faults, DW_INPUT, "not-json", what, "line %ld, column %ld: %s\n%s", line, column, why, cure);
}

/* Bytes of the character that a byte leads, by its high bits; a stray one is taken by itself. */
static size_t bytes_led_by(unsigned char lead)
{
    if (lead >= 0xF0)
        return 4;
    if (lead >= 0xE0)
        return 3;
    return lead >= 0xC0 ? 2 : 1;
}

/* The first character that is no clean UTF-8, line ends and tabs apart; the end when all is well. */
static const char *first_foul(const char *text, const char *end)
{
    while (text < end) {
        const size_t bytes = bytes_led_by((unsigned char)*text);
        const bool space = *text == '\n' || *text == '\r' || *text == '\t';
        if (!space && (bytes > (size_t)(end - text) || !dw_utf8_is_clean(text, bytes)))
            return text;
        text += bytes;
    }
    return end;
}

const char *dwi_tree_prepare(const char *text, size_t length, const struct dwi_limits *limits, const char *what, struct dw_arena *arena, struct dw_faults *faults)
{
    static const char mark[] = "\xEF\xBB\xBF"; /* some editors begin a file with it */
    if (length > limits->bytes) {
        dw_error(faults, DW_INPUT, "too-large", what, "the file is larger than %zu MiB\na smaller file", limits->bytes >> 20);
        return NULL;
    }
    if (length >= 3 && memcmp(text, mark, 3) == 0) {
        text += 3;
        length -= 3;
    }
    struct scan scan = {.start = text, .at = text, .end = text + length, .out = dw_text_in(arena), .depth_most = limits->depth};
    const char *foul = first_foul(text, scan.end);
    if (foul != scan.end) {
        scan.at = foul;
        report(&scan, "not a character of UTF-8, or a control character", "the file saved as plain text in UTF-8", what, faults);
        return NULL;
    }
    const bool read = scan_value(&scan);
    if (read)
        skip_space(&scan);
    if (read && at_end(&scan))
        return scan.out.bytes;
    report(&scan, read ? "expected nothing behind the end" : scan.why, cure_for(&scan), what, faults);
    return NULL;
}
