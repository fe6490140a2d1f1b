package verify

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"valvegrade/pkg/score"
)

// What another processor may change (see score.ProcessorPoints).
const (
	// shares bounds shares and probabilities, 0 to 1.
	shares = score.ProcessorPoints / 100
	// rounding is what decimals cost that are not whole in binary.
	rounding = 1e-9
	// others and otherShare bound what no grade rests on: a value and a share of the larger figure.
	others, otherShare = 1, 0.1
)

// sameWithin reports whether two records tell the same within what another processor changes: grade, status and reasons
// are equal.
func sameWithin(saved, again *score.Record) bool {
	where, err := differing(measuredPart(*saved), measuredPart(*again), nearFigures)
	return err == nil && len(where) == 0
}

// nearFigures is the tolerance for the figures of a photo.
func nearFigures(path string, a, b any) bool {
	if strings.HasSuffix(path, ".advice") { // the sentence has rounded figures in it, the code before it none
		return nearWords(path, a, b)
	}
	x, y, ok := numbers(a, b)
	if !ok {
		return false
	}
	key := path[strings.LastIndexByte(path, '.')+1:]
	off := math.Abs(x-y) - rounding
	switch {
	case key == "grade":
		return false
	case strings.HasPrefix(key, "index"),
		strings.HasPrefix(key, "coverage"),
		strings.HasPrefix(key, "dark") && !strings.Contains(key, "star"):
		return off <= score.ProcessorPoints
	case strings.Contains(path, "shares."), strings.HasPrefix(path, "probabilities"), key == "unreadable", key == "due":
		return off <= shares
	default:
		return nearOthers(x, y)
	}
}

// nearComparison is the tolerance for the figures of before and after, which rest on two photos.
func nearComparison(path string, a, b any) bool {
	x, y, ok := numbers(a, b)
	if !ok {
		return false
	}
	most := 4 * score.ProcessorPoints
	if max(math.Abs(x), math.Abs(y)) <= 1 && strings.Contains(path, "share") {
		most = 4 * shares
	}
	return math.Abs(x-y)-rounding <= most
}

// besidesNumbers lets everything pass but a number that differs: it finds out whether another processor made a comparison.
func besidesNumbers(_ string, a, b any) bool {
	_, _, ok := numbers(a, b)
	return !ok
}

// nearWords is the tolerance for sentences on figures that another processor moved: they have the same words, and of
// their numbers, which are rounded, none is more than one off.
func nearWords(_ string, a, b any) bool {
	x, first := a.(string)
	y, second := b.(string)
	if !first || !second || written.ReplaceAllString(x, "0") != written.ReplaceAllString(y, "0") {
		return false
	}
	others := written.FindAllString(y, -1)
	for i, one := range written.FindAllString(x, -1) {
		if !(math.Abs(valueOf(one)-valueOf(others[i])) <= 1) {
			return false
		}
	}
	return true
}

// written are the numbers of a sentence, in any language: decimals stand behind a point or a comma, and so do thousands,
// always three.
var written = regexp.MustCompile(`[0-9]+([.,][0-9]+)?`)

// valueOf reads a number that was written. No sentence has three decimals.
func valueOf(text string) float64 {
	whole, rest, _ := strings.Cut(strings.Replace(text, ",", ".", 1), ".")
	if len(rest) != 3 {
		whole += "."
	}
	v, _ := strconv.ParseFloat(whole+rest, 64) // one of too many digits is infinite
	return v
}

func nearOthers(x, y float64) bool {
	return math.Abs(x-y) <= others+otherShare*max(math.Abs(x), math.Abs(y))
}

func numbers(a, b any) (x, y float64, ok bool) {
	x, first := a.(float64)
	y, second := b.(float64)
	return x, y, first && second
}
