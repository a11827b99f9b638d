/* mark.c - the plan's mark: six characters printed on every page, so that pages of two plans are not mixed up.
 *
 * 30 bits of a 64-bit FNV-1a hash (Fowler, Noll, Vo) over what the plan consists of: jobs, sheets, where every piece lies, what is bought;
 * and over the plan that it replaces, so that the same work planned again has another mark.
 * Letters and digits that people mistake for one another (I and 1, O and 0) are left out.
 */
#include "buying.h"

#include <string.h>

#include <drawerwright/memory.h>

static const char alphabet[] = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ";
enum { MARK_LENGTH = 6 };

static void mix_bytes(uint64_t *hash, const void *bytes, size_t length)
{
    const unsigned char *at = bytes;
    for (size_t i = 0; i < length; i++)
        *hash = (*hash ^ at[i]) * 1099511628211U;
}

static void mix(uint64_t *hash, int64_t number)
{
    for (int shift = 0; shift < 64; shift += 8)
        mix_bytes(hash, &(unsigned char){(unsigned char)((uint64_t)number >> shift)}, 1);
}

/* The ending NUL goes in too, so that "ab", "c" differs from "a", "bc". */
static void mix_string(uint64_t *hash, const char *text)
{
    mix_bytes(hash, text, strlen(text) + 1);
}

static void mix_node(uint64_t *hash, const struct dw_layout_node *node)
{
    mix(hash, node->x);
    mix(hash, node->y);
    mix(hash, node->length);
    mix(hash, node->width);
    mix(hash, (int64_t)node->use);
    mix_string(hash, node->mark);
    for (size_t i = 0; node->use == DW_NODE_CUT && i < node->piece_count; i++)
        mix_node(hash, &node->pieces[i]);
}

void dwi_buying_mark(struct buying *buying)
{
    uint64_t hash = 14695981039346656037U;
    for (size_t job = 0; job < buying->job_count; job++)
        mix_string(&hash, buying->jobs[job]->sizing->job->id);
    for (size_t m = 0; m < buying->purchase->layouts->material_count; m++) {
        const struct dw_material_layout *layout = &buying->purchase->layouts->materials[m];
        for (size_t s = 0; s < layout->sheet_count; s++) {
            mix_string(&hash, layout->problem->sources[layout->sheets[s].source].id);
            mix_node(&hash, &layout->sheets[s].root);
        }
    }
    for (size_t i = 0; i < buying->purchase->line_count; i++) {
        mix_string(&hash, buying->purchase->lines[i].id);
        mix(&hash, buying->purchase->lines[i].count);
        mix(&hash, buying->purchase->lines[i].total);
    }
    if (buying->options->follows != NULL) {
        mix_string(&hash, buying->options->follows);
        mix(&hash, buying->options->seen);
    }
    char mark[MARK_LENGTH + 1] = "";
    for (int i = 0; i < MARK_LENGTH; i++, hash >>= 5)
        mark[i] = alphabet[hash % 32];
    buying->purchase->follows = buying->options->follows;
    buying->purchase->seen = buying->options->seen;
    buying->purchase->given = buying->options->given;
    buying->purchase->given_count = buying->options->given_count;
    buying->purchase->plan_mark = dw_arena_string(buying->arena, mark);
}
