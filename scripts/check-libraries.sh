#!/bin/sh
# check-libraries.sh PROGRAM: fails when the program loads OpenCV's codecs, video input or windows, or over 40 libraries.
# Those bring 240 further libraries and half a second of start-up, and decode files where our size limits do not reach.
set -eu
program=$1
limit=40

libraries=$(ldd "$program")
count=$(echo "$libraries" | wc -l)
if echo "$libraries" | grep -E 'imgcodecs|videoio|highgui'; then
    echo "$program loads the libraries above: something calls OpenCV's codecs, video input or windows, or lld was not used" >&2
    exit 1
fi
if [ "$count" -gt "$limit" ]; then
    echo "$program loads $count shared libraries, more than $limit" >&2
    exit 1
fi
echo "$program loads $count shared libraries (at most $limit)"
