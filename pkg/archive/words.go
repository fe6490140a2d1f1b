package archive

import (
	"fmt"
	"hash/fnv"
	"maps"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/runes"
	"golang.org/x/text/transform"
	"golang.org/x/text/unicode/norm"
)

// alike are letters that people read and type as digits; no VIN has I, O or Q.
var alike = strings.NewReplacer("o", "0", "q", "0", "i", "1", "l", "1")

// plain is a text as it is compared: small letters without accents and digits, those that look alike as one.
func plain(text string) string {
	bare, _, err := transform.String(transform.Chain(norm.NFKD, runes.Remove(runes.In(unicode.Mn))), text)
	if err != nil {
		bare = text
	}
	letters := func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}
	return alike.Replace(strings.Map(letters, bare))
}

// wordsOf are the plain words of a text: what stands between blanks and signs.
func wordsOf(text string) []string {
	var words []string
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.IsMark(r) }) {
		if word := plain(part); word != "" {
			words = append(words, word)
		}
	}
	return words
}

// longestWord is how much of a word is compared; a VIN has 17.
const longestWord = 24

// gaps are a word and the word with each of its letters left out, hashed. Two words that differ by one letter too many,
// too few or wrong, or by two that changed places, have one of them in common.
func gaps(word string) []int64 {
	letters := []rune(word)
	all := []int64{hashed(word)}
	for n := range letters {
		if n > 0 && letters[n] == letters[n-1] { // leaves the same
			continue
		}
		all = append(all, hashed(string(letters[:n])+string(letters[n+1:])))
	}
	return all
}

func hashed(text string) int64 {
	h := fnv.New64a()
	_, _ = h.Write([]byte(text)) // never fails
	return int64(h.Sum64())
}

// vinTail is how many places from the end of a VIN people ask for: they number the vehicles of a series.
const vinTail = 6

// mentioned are the words to find a vehicle or a visit by, with what each is.
type mentioned map[string]map[string]bool

func (m mentioned) add(said string, words ...string) {
	for _, word := range words {
		letters := []rune(word)
		word = string(letters[:min(longestWord, len(letters))])
		if word == "" {
			continue
		}
		if m[word] == nil {
			m[word] = map[string]bool{}
		}
		m[word][said] = true
	}
}

// mostWords is how many words of a wish or a name are kept to find by.
const mostWords = 30

func (m mentioned) text(said, text string) {
	words := wordsOf(text)
	m.add(said, words[:min(mostWords, len(words))]...)
	if len(words) > 1 && said != "wish" {
		m.add(said, plain(text)) // written without the blanks
	}
}

// ofVehicle are the words that a vehicle is found by.
func ofVehicle(name, plate, vin string) mentioned {
	m := mentioned{}
	m.text("name", name)
	m.text("plate", plate)
	if vin := plain(vin); vin != "" {
		m.add("vin", vin, vin[max(0, len(vin)-vinTail):])
	}
	return m
}

// ofVisit are the words that an inspection is found by.
func ofVisit(job, wish string) mentioned {
	m := mentioned{}
	m.text("job", job)
	m.text("wish", wish)
	return m
}

// mention writes down the words of a vehicle (inspection 0) or of an inspection, in place of those before.
func (w writer) mention(vehicle, inspection int64, words mentioned) error {
	if err := w.do(`DELETE FROM mention WHERE vehicle = $1 AND inspection = $2`, vehicle, inspection); err != nil {
		return err
	}
	ids, err := w.words(slices.Sorted(maps.Keys(words))) // in one order, so that two writers do not block each other
	if err != nil {
		return err
	}
	insert := into("mention", "word", "vehicle", "inspection", "said")
	for word, roles := range words {
		for said := range roles {
			insert.add(ids[word], vehicle, inspection, said)
		}
	}
	_, err = w.insert(insert)
	return err
}

// words returns the keys of words and writes those that are new down, with their gaps.
func (w writer) words(all []string) (map[string]int64, error) {
	ids := map[string]int64{}
	insert := into("word", "word")
	insert.end = "ON CONFLICT (shop, word) DO NOTHING RETURNING id, word"
	for _, word := range all {
		insert.add(word)
	}
	if err := w.keys(insert, ids); err != nil {
		return nil, err
	}
	if err := w.near(ids); err != nil {
		return nil, err
	}
	return ids, w.wordIDs(all, ids)
}

// near writes down the gaps of words with their keys.
func (w writer) near(ids map[string]int64) error {
	insert := into("near", "gap", "word")
	insert.end = "ON CONFLICT DO NOTHING"
	for word, id := range ids {
		for _, gap := range gaps(word) {
			insert.add(gap, id)
		}
	}
	_, err := w.insert(insert)
	return err
}

// wordsAtOnce is how many words are looked up by one statement.
const wordsAtOnce = 200

// wordIDs adds the keys of those words of the archive that are not among them yet.
func (w writer) wordIDs(words []string, ids map[string]int64) error {
	missing := slices.DeleteFunc(slices.Clone(words), func(word string) bool { return ids[word] != 0 })
	for part := range slices.Chunk(missing, wordsAtOnce) {
		args := make([]any, 0, len(part)+1)
		for _, word := range part {
			args = append(args, word)
		}
		statement := fmt.Sprintf(`SELECT id, word FROM word WHERE word IN %s AND shop = $%d`, places(1, len(part)), len(part)+1)
		if err := w.keysOf(ids, statement, append(args, w.shop)...); err != nil {
			return err
		}
	}
	return nil
}

// unmention takes all words of a vehicle and its inspections away, and those that nothing else mentions.
func (w writer) unmention(vehicle int64) error {
	words, err := w.numbers(`SELECT DISTINCT word FROM mention WHERE vehicle = $1 ORDER BY word`, vehicle)
	if err != nil {
		return err
	}
	if err := w.do(`DELETE FROM mention WHERE vehicle = $1`, vehicle); err != nil {
		return err
	}
	for _, word := range words {
		err := w.do(`DELETE FROM word WHERE id = $1 AND NOT EXISTS (SELECT 1 FROM mention WHERE word = $1)`, word)
		if err != nil {
			return err
		}
	}
	return nil
}
