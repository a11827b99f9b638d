/* roff.c - words as roff, and the little Markdown that our reference is written in (headings, tables, fences, links, code) as a manual page. */
#include "cli.h"

#include <string.h>

#include <drawerwright/memory.h>

/* Characters that roff takes as something else, or prints as another sign than the one that is to be typed. */
static const char *escape(char character)
{
    switch (character) {
    case '\\': return "\\e";
    case '-': return "\\-";
    case '\'': return "\\(aq";
    case '`': return "\\(ga";
    case '^': return "\\(ha";
    case '~': return "\\(ti";
    default: return NULL;
    }
}

static void add_plain(struct dw_text *out, const char *words, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        const char *instead = escape(words[i]);
        if (instead != NULL)
            dw_text_add(out, instead);
        else
            dw_text_add_char(out, words[i]);
    }
}

void cli_roff_add(struct dw_text *out, const char *words)
{
    if (words[0] == '.' || words[0] == '\'')
        dw_text_add(out, "\\&");
    add_plain(out, words, strlen(words));
}

/* ---- Markdown -------------------------------------------------------------------------------------------------- */

/* What the lines before decide about the next one. */
struct page {
    struct dw_text *out;
    char *header;  /* of the table that is being read; NULL outside one */
    bool fenced;   /* between two fences: printed as it stands */
};

/* `code` in bold, *words* in italics, [words](place) as the words alone. Ends at `end`. */
static void add_inline(struct dw_text *out, const char *at, const char *end)
{
    if (at < end && (*at == '.' || *at == '\''))
        dw_text_add(out, "\\&");
    while (at < end) {
        const char *close = *at == '`' || *at == '*' ? memchr(at + 1, *at, (size_t)(end - at - 1)) : NULL;
        const char *label = *at == '[' ? strstr(at, "](") : NULL;
        const char *place = label == NULL || label >= end ? NULL : memchr(label, ')', (size_t)(end - label));
        if (close != NULL) {
            dw_text_add(out, *at == '`' ? "\\fB" : "\\fI");
            add_plain(out, at + 1, (size_t)(close - at - 1));
            dw_text_add(out, "\\fR");
            at = close + 1;
        } else if (place != NULL) {
            add_inline(out, at + 1, label);
            at = place + 1;
        } else {
            add_plain(out, at++, 1);
        }
    }
}

/* The next cell of a row ("| a | b |"), whose text is *from .. the result; NULL past the last one. */
static const char *next_cell(const char **row, const char **from)
{
    const char *at = *row + strspn(*row, "| ");
    const char *end = *at == '\0' ? NULL : strstr(at, " |");
    if (end == NULL)
        return NULL;
    *from = at;
    *row = end + 1;
    return end;
}

/* A row becomes an item under its first cell; the other cells stand one a line behind the heads of their columns. */
static void add_row(struct page *page, const char *row)
{
    const char *header = page->header;
    const char *head = NULL;
    const char *cell = NULL;
    const char *head_end = next_cell(&header, &head);
    const char *cell_end = next_cell(&row, &cell);
    if (head_end == NULL || cell_end == NULL)
        return;
    dw_text_add(page->out, ".TP\n");
    add_inline(page->out, cell, cell_end);
    dw_text_add_char(page->out, '\n');
    for (const char *lead = ""; (head_end = next_cell(&header, &head)) != NULL && (cell_end = next_cell(&row, &cell)) != NULL; lead = ".br\n") {
        dw_text_add(page->out, lead);
        dw_text_add(page->out, "\\fI");
        add_plain(page->out, head, (size_t)(head_end - head));
        dw_text_add(page->out, "\\fR: ");
        add_inline(page->out, cell, cell_end);
        dw_text_add_char(page->out, '\n');
    }
}

static void add_fence(struct page *page)
{
    page->fenced = !page->fenced;
    dw_text_add(page->out, page->fenced ? ".PP\n.RS 4\n.nf\n" : ".fi\n.RE\n");
}

static void add_heading(struct page *page, const char *line)
{
    const size_t depth = strspn(line, "#");
    dw_text_add(page->out, depth <= 2 ? ".SH " : ".SS ");
    line += depth;
    line += strspn(line, " ");
    add_inline(page->out, line, line + strlen(line));
    dw_text_add_char(page->out, '\n');
}

static void add_line(struct page *page, char *line)
{
    if (strncmp(line, "```", 3) == 0) {
        add_fence(page);
    } else if (page->fenced) {
        cli_roff_add(page->out, line);
        dw_text_add_char(page->out, '\n');
    } else if (line[0] == '|' && page->header == NULL) {
        page->header = line;
    } else if (line[0] == '|' && line[strspn(line, "| -")] != '\0') {
        add_row(page, line);
    } else if (line[0] == '#') {
        add_heading(page, line);
    } else if (line[0] != '\0' && line[0] != '|' && line[0] != '<') {
        add_inline(page->out, line, line + strlen(line));
        dw_text_add_char(page->out, '\n');
    }
}

void cli_roff_add_markdown(struct dw_text *out, char *markdown)
{
    struct page page = {.out = out};
    bool gap = false; /* an empty line came, and nothing since that makes its own space */
    for (char *line = markdown; line != NULL;) {
        char *end = strchr(line, '\n');
        if (end != NULL)
            *end = '\0';
        if (line[0] != '|')
            page.header = NULL;
        if (gap && !page.fenced && strchr("#|<`", line[0]) == NULL)
            dw_text_add(out, ".PP\n");
        gap = line[0] == '\0';
        add_line(&page, line);
        line = end == NULL ? NULL : end + 1;
    }
}
