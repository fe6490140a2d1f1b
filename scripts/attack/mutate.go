package main

import (
	"bytes"
	"encoding/binary"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
)

// mostAdded is how many bytes a repetition adds at most, beyond every limit that the program has for texts.
const mostAdded = 64 << 20

// mutate spoils a copy of one of the good files of a kind, mostly a little, now and then a lot.
func mutate(r *rand.Rand, k kind) []byte {
	data := slices.Clone(k.good[r.IntN(len(k.good))])
	ways := inBytes
	if k.text && r.IntN(4) > 0 {
		ways = inText
	}
	for range 1 + r.IntN(r.IntN(4)+1) {
		if data = ways[r.IntN(len(ways))](r, data, k); len(data) > mostBytes {
			data = data[:mostBytes]
		}
	}
	return data
}

// mostBytes bounds a spoilt file: larger ones take time to write and tell nothing new.
const mostBytes = 40 << 20

// mostMatches bounds the search in long texts.
const mostMatches = 5000

type mutation func(r *rand.Rand, data []byte, k kind) []byte

var inBytes = []mutation{
	func(r *rand.Rand, d []byte, _ kind) []byte { // some bits
		for range 1 + r.IntN(20) {
			if len(d) > 0 {
				d[near(r, len(d))] ^= 1 << r.IntN(8)
			}
		}
		return d
	},
	func(r *rand.Rand, d []byte, _ kind) []byte { // a number that is often mishandled
		values := []uint64{
			0,
			1,
			0x7f,
			0x80,
			0xff,
			0x7fff,
			0x8000,
			0xffff,
			0x7fffffff,
			0x80000000,
			0xffffffff,
			1 << 20,
			12000,
		}
		var number [8]byte
		binary.BigEndian.PutUint64(number[:], values[r.IntN(len(values))])
		width := 1 << r.IntN(3)
		if len(d) > width {
			copy(d[near(r, len(d)-width):], number[8-width:])
		}
		return d
	},
	func(r *rand.Rand, d []byte, _ kind) []byte { return d[:near(r, len(d)+1)] }, // cut short
	func(r *rand.Rand, d []byte, _ kind) []byte { // a piece is missing
		from, to := piece(r, d)
		return append(slices.Clone(d[:from]), d[to:]...)
	},
	func(r *rand.Rand, d []byte, _ kind) []byte { // a piece again and again
		from, to := piece(r, d)
		again := bytes.Repeat(d[from:to], min(1+r.IntN(1<<r.IntN(12)), (8<<20)/max(1, to-from)))
		return slices.Concat(d[:to], again, d[to:])
	},
	func(r *rand.Rand, d []byte, k kind) []byte { // a piece of another good file
		other := k.good[r.IntN(len(k.good))]
		from, to := piece(r, other)
		at := near(r, len(d)+1)
		return slices.Concat(d[:at], other[from:to], d[at:])
	},
	func(r *rand.Rand, d []byte, _ kind) []byte { // noise
		from, to := piece(r, d)
		for i := from; i < to; i++ {
			d[i] = byte(r.Uint32())
		}
		return d
	},
}

// near draws a place among n, half of the time close to the beginning, where headers are.
func near(r *rand.Rand, n int) int {
	if n > 400 && r.IntN(2) == 0 {
		return r.IntN(400)
	}
	return r.IntN(max(1, n))
}

func piece(r *rand.Rand, d []byte) (from, to int) {
	from = near(r, len(d)+1)
	return from, min(len(d), from+1+r.IntN(1<<r.IntN(14)))
}

var (
	someNumber = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)
	someWord   = regexp.MustCompile(`[A-Za-z][A-Za-z_0-9./-]*`)
	someLine   = regexp.MustCompile(`[^\n]*\n`)
)

var numbers = []string{
	"-1",
	"0",
	"1e308",
	"-1e-308",
	"1e999",
	"NaN",
	".inf",
	"9223372036854775808",
	"99999999999999999999",
	"0x7fffffff",
	"1_000",
	"null",
	`""`,
}

var words = []string{
	"../../../../etc/passwd", "/proc/self/environ", "/dev/zero", "\x1b[2J\x1b[31m", "\u202egpj", "\x00", "=1+1", "null", "true", "~", "&a", "*a", "!!binary",
	"<<", strings.Repeat("x", 70_000), "</script><script>", "\xff\xfe", "%s%n",
}

var holes = []string{
	"[",
	"{",
	"{},",
	"[],",
	"- ",
	"? ",
	"\n",
	" ",
	`{"a":`,
	"- - ",
	"a: &a [*a]\n",
	"|\n\n",
	",",
	"\"",
	"#",
	"key: 1\n",
	"a,b\n",
}

var inText = []mutation{
	func(r *rand.Rand, d []byte, _ kind) []byte { return replaced(r, d, someNumber, numbers) },
	func(r *rand.Rand, d []byte, _ kind) []byte { return replaced(r, d, someWord, words) },
	func(r *rand.Rand, d []byte, _ kind) []byte { // one thing, very often
		at, hole := r.IntN(len(d)+1), holes[r.IntN(len(holes))]
		return slices.Concat(d[:at], bytes.Repeat([]byte(hole), 1+r.IntN(1<<r.IntN(22))), d[at:])
	},
	func(r *rand.Rand, d []byte, _ kind) []byte { // a line, often
		found := someLine.FindAllIndex(d, mostMatches)
		if len(found) == 0 {
			return d
		}
		l := found[r.IntN(len(found))]
		return slices.Concat(
			d[:l[1]],
			bytes.Repeat(d[l[0]:l[1]], min(1+r.IntN(1<<r.IntN(16)), max(1, mostAdded/max(1, l[1]-l[0])))),
			d[l[1]:],
		)
	},
	func(r *rand.Rand, d []byte, k kind) []byte { return inBytes[r.IntN(len(inBytes))](r, d, k) },
}

// replaced puts one of the values in place of one match.
func replaced(r *rand.Rand, d []byte, what *regexp.Regexp, values []string) []byte {
	found := what.FindAllIndex(d, mostMatches)
	if len(found) == 0 {
		return d
	}
	at := found[r.IntN(len(found))]
	return slices.Concat(d[:at[0]], []byte(values[r.IntN(len(values))]), d[at[1]:])
}
