/* ask_cbc.h - a second solver's opinion on a model file: cbc of the COIN-OR project, when it is installed. */
#ifndef DRAWERWRIGHT_TESTS_ASK_CBC_H
#define DRAWERWRIGHT_TESTS_ASK_CBC_H

#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static inline bool has_cbc(void)
{
    return system("cbc -quit >/dev/null 2>&1") == 0;
}

/* What cbc says of the model in `path`: its objective, or -1 for infeasible. */
static inline double ask_cbc(const char *path)
{
    char command[300], line[300];
    (void)snprintf(command, sizeof command, "cbc %s -solve -solu %s.sol >/dev/null 2>&1", path, path);
    if (system(command) != 0)
        fail_msg("cbc failed on %s", path);
    (void)snprintf(command, sizeof command, "%s.sol", path);
    FILE *file = fopen(command, "r");
    assert_non_null(file);
    assert_non_null(fgets(line, sizeof line, file));
    (void)fclose(file);
    (void)remove(command);
    const char *value = strstr(line, "objective value");
    const bool optimal = strncmp(line, "Optimal", 7) == 0;
    assert_true(optimal ? value != NULL : strstr(line, "nfeasible") != NULL);
    return optimal ? strtod(value + strlen("objective value"), NULL) : -1;
}

#endif
