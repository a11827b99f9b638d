# Reads the words of a PDF as poppler sees them (pdftotext -bbox FILE -, fields between quotes) and fails when one leaves its page or stands over another.
# A word's box reaches from the font's ascent to its descent, more than the letters do: a sixth of its thickness is taken off all round.
/<page/ { width = $2 + 0; height = $4 + 0; count = 0 }
/<word/ {
    x = $2 + 0; y = $4 + 0; x2 = $6 + 0; y2 = $8 + 0
    if (x < 0 || y < 0 || x2 > width || y2 > height) { print "leaves the page: " $0; bad = 1 }
    air = 0.16 * (x2 - x < y2 - y ? x2 - x : y2 - y)
    x += air; y += air; x2 -= air; y2 -= air
    for (i = 0; i < count; i++)
        if (x < right[i] && left[i] < x2 && y < low[i] && top[i] < y2) { print "over another: " text[i] " and " $0; bad = 1 }
    left[count] = x; top[count] = y; right[count] = x2; low[count] = y2; text[count++] = $0
}
END { exit bad }
