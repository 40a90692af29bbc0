#!/usr/bin/env bash
# Looks at the packs in a folder with tools that are not ours: qpdf, poppler and, for the codes, zbar.
set -euo pipefail
out=$1

fail() {
    echo "outside.sh: $*" >&2
    exit 1
}

for pack in client fitter; do
    pdf="$out/$pack.pdf"
    qpdf --check "$pdf" >/dev/null || fail "$pdf: qpdf finds it unsound"

    info=$(pdfinfo "$pdf" 2>/dev/null)
    grep -q '^Tagged: *yes' <<<"$info" || fail "$pdf is not tagged"
    grep -q '^Title: *[^ ]' <<<"$info" || fail "$pdf has no title"
    pages=$(awk '/^Pages:/ { print $2 }' <<<"$info")

    # The claims stand in the metadata stream (ISO 19005-3, ISO 14289-1).
    meta=$(pdfinfo -meta "$pdf" 2>/dev/null)
    grep -q 'pdfaid:part>3<' <<<"$meta" || fail "$pdf does not claim PDF/A-3"
    grep -q 'pdfaid:conformance>A<' <<<"$meta" || fail "$pdf does not claim level A"
    grep -q 'pdfuaid:part>1<' <<<"$meta" || fail "$pdf does not claim PDF/UA-1"

    # Every font is one of ours, embedded, and its text can be read back.
    pdffonts "$pdf" 2>/dev/null | tail -n +3 | while read -r line; do
        grep -Eq 'SourceSans3|NotoSans' <<<"$line" || fail "$pdf uses a strange font: $line"
        grep -Eq ' yes +(yes|no) +yes ' <<<"$line" || fail "$pdf: font not embedded or without Unicode: $line"
    done

    # The code of the first page, of a drawing in the middle and of the last page, read back as a telephone
    # would read a print at 200 dots to the inch: each names its own page of this pack.
    letter=$(tr cf CF <<<"${pack:0:1}")
    for page in 1 $((pages / 2)) "$pages"; do
        picture=$(mktemp --suffix=.png)
        pdftoppm -r 200 -png -singlefile -f "$page" -l "$page" "$pdf" "${picture%.png}" 2>/dev/null
        code=$(zbarimg --quiet --raw "$picture" 2>/dev/null || true)
        rm -f "$picture"
        [ -n "$code" ] || fail "$pdf page $page: its code cannot be read"
        grep -q ":$letter$page:" <<<"$code" || fail "$pdf page $page: its code says '$code'"
    done

    for page in $(seq 1 "$pages"); do
        words=$(pdftotext -f "$page" -l "$page" "$pdf" - 2>/dev/null | wc -w)
        [ "$words" -ge 15 ] || fail "$pdf page $page is all but empty"
    done
    pdftotext "$pdf" - 2>/dev/null | grep -q "page $pages of $pages\|$pages of $pages" \
        || fail "$pdf does not number its pages to $pages"

    # Bookmarks, links, header cells, and words for who cannot see the drawings.
    bookmarks=$(qpdf --json=2 --json-key=outlines "$pdf" 2>/dev/null | grep -c '"title"' || true)
    [ "$bookmarks" -ge 10 ] || fail "$pdf has only $bookmarks bookmarks"
    plain=$(mktemp)
    qpdf --qdf --object-streams=disable "$pdf" "$plain" 2>/dev/null
    for wanted in '/S /TH' '/Alt' '/Subtype /Link' '/S /H2'; do
        count=$(grep -ac -- "$wanted" "$plain" || true)
        [ "$count" -ge 10 ] || fail "$pdf has only $count of $wanted"
    done
    rm -f "$plain"

    # Nothing a camera wrote travels along.
    if grep -aq 'Exif' "$pdf"; then fail "$pdf holds a picture with camera data"; fi
    echo "$pdf: $pages pages, sound"
done

ls "$out"/drawings/*.png >/dev/null || fail "no drawings"
