/* rows.h - short ways to write the rows of the tables of keys. Each gives the place and size of a member from its struct. */
#ifndef DWI_ROWS_H
#define DWI_ROWS_H

#include <drawerwright/keys.h>

#define ROW_COUNT(rows) (sizeof(rows) / sizeof *(rows))
#define PLACE(owner, member) .offset = offsetof(struct owner, member), .size = sizeof(((struct owner *)0)->member)

#define TEXT(name, owner, member) .key = name, .kind = DW_KEY_TEXT, PLACE(owner, member)
#define LENGTH(name, owner, member, from, to) .key = name, .kind = DW_KEY_LENGTH, PLACE(owner, member), .least = from, .most = to
#define MONEY(name, owner, member) .key = name, .kind = DW_KEY_MONEY, PLACE(owner, member), .least = 0, .most = DW_MONEY_MAX
#define COUNT(name, owner, member, from, to) .key = name, .kind = DW_KEY_COUNT, PLACE(owner, member), .least = from, .most = to
#define PERCENT(name, owner, member, from, to) .key = name, .kind = DW_KEY_PERCENT, PLACE(owner, member), .least = from, .most = to
#define YES_NO(name, owner, member, otherwise) \
    .key = name, .kind = DW_KEY_YES_NO, PLACE(owner, member), .inch = otherwise, .metric = otherwise
#define WORD(name, owner, member, choice) .key = name, .kind = DW_KEY_WORD, PLACE(owner, member), .words = choice
#define READINGS(name, owner, member, from, to) .key = name, .kind = DW_KEY_READINGS, PLACE(owner, member), .least = from, .most = to
#define REFERENCE(name, what, owner, member) .key = name, .kind = what, PLACE(owner, member)
#define WITHIN(name, owner, member, table) .key = name, .kind = DW_KEY_OBJECT, PLACE(owner, member), .object = &(table)
#define SAME(name, table) .key = name, .kind = DW_KEY_OBJECT, .offset = 0, .object = &(table)
#define LIST(name, owner, member, number, table) \
    .key = name, .kind = DW_KEY_LIST, PLACE(owner, member), .count_offset = offsetof(struct owner, number), .object = &(table)
#define DEFAULT(in_inches, in_millimeters) .inch = in_inches, .metric = in_millimeters
#define BY_RULE(words_of_it) .rule = words_of_it
#define MEANS(words_of_it) .meaning = words_of_it
#define SOURCE(words_of_it) .source = words_of_it
#define EXAMPLE(json) .example = json

#define OBJECT(title, owner, rows, words_of_it) \
    .name = title, .size = sizeof(struct owner), .keys = rows, .count = ROW_COUNT(rows), .meaning = words_of_it

/* Limits that several rows share. A case longer than 15 m is a slip of the unit. */
#define CASE_MOST (15000 * DW_MM)
#define PART_MOST (1000 * DW_MM)
#define STOCK_MOST (100 * DW_MM)
#define SMALL_MOST (25 * DW_MM)
#define STOCK_LEAST (DW_MM)

#endif
