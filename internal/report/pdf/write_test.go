package pdf

import (
	"bytes"
	"fmt"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/report"
)

// paper writes the report and returns the file's name.
func paper(t *testing.T, m *report.Model) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "report.pdf")
	require.NoError(t, os.WriteFile(file, written(t, m), 0o600))
	return file
}

func written(t *testing.T, m *report.Model) []byte {
	t.Helper()
	var document bytes.Buffer
	_, err := Write(m, &document)
	require.NoError(t, err)
	return document.Bytes()
}

// poppler runs one of the tools that scripts/install-deps.sh --tests brings, and returns what it writes.
func poppler(t *testing.T, tool string, args ...string) string {
	t.Helper()
	var problems bytes.Buffer
	command := exec.Command(tool, args...)
	command.Stderr = &problems
	out, err := command.Output()
	require.NoError(t, err, problems.String())
	assert.Empty(t, problems.String(), "%s has nothing to complain about", tool)
	return string(out)
}

// pagesOf are the texts of the pages, each in reading order and with single blanks.
func pagesOf(t *testing.T, file string) []string {
	t.Helper()
	pages := strings.Split(strings.TrimSuffix(poppler(t, "pdftotext", file, "-"), "\f"), "\f")
	for n, text := range pages {
		pages[n] = strings.Join(strings.Fields(text), " ")
	}
	return pages
}

func TestPaperSaysWhatThePageSays(t *testing.T) {
	m := full(t, "before", "after")
	pages := pagesOf(t, paper(t, m))
	text := strings.Join(pages, " ")
	contains := func(sentence string) { assert.Contains(t, text, strings.Join(strings.Fields(sentence), " ")) }

	for _, fixed := range []string{
		m.Summary, "Example Garage", "12 Example Road", "4711", "Residue map", "Over the odometer", "Signature", m.Written(), m.ScaleNote(),
		"The photo was not found.", "out of focus", m.Texts.Verify, m.Texts.Privacy,
	} {
		contains(fixed)
	}
	for _, list := range [][]string{m.Texts.CautionList, m.Texts.CannotTell, m.Texts.Measured, m.Notes} {
		for _, sentence := range list {
			contains(sentence)
		}
	}
	for _, c := range m.Cylinders {
		for _, line := range c.Lines {
			contains(line)
		}
	}
	contains("Dark deposit " + m.Percentage(m.Cylinders[0].Valves[1].States[0].Dark)) // of two photos, so that neither says it
	for n, page := range pages {
		assert.Contains(t, page, fmt.Sprintf("Page %d of %d", n+1, len(pages)))
	}
	for _, p := range m.Proofs() {
		contains(p.Hash)
		contains(p.Taken)
		assert.NotRegexp(t, `\dT\d`, p.Taken, "as the locale writes it")
	}
}

// Each valve stands on one page: its heading, its grade in both visits, its figures.
func TestValvesAreNotTornApart(t *testing.T) {
	m := full(t, "before", "after")
	pages := pagesOf(t, paper(t, m))
	for _, c := range m.Cylinders {
		for _, v := range c.Valves {
			heading := fmt.Sprintf(m.Texts.ValveLine, v.Cylinder, v.Number)
			at := -1
			for n, page := range pages {
				if strings.Contains(page, heading) {
					require.Equal(t, -1, at, "%s stands on two pages", heading)
					at = n
				}
			}
			require.NotEqual(t, -1, at, heading)
			for _, s := range v.States {
				assert.Contains(t, pages[at], m.Plate(s.Reading).Words, heading)
				for _, p := range s.Photos {
					assert.Contains(t, pages[at], p.File, heading)
				}
			}
		}
	}
}

// However much is said above and below: the chart stands with its table on the first page, lines on a cylinder with the photos
// of its first valve, and the signature below what is signed for.
func TestNothingStandsAloneOnAPage(t *testing.T) {
	for _, lines := range []int{0, 4, 8, 12} {
		m := full(t, "before", "after")
		words := *m.Texts
		m.Texts = &words
		for n := range lines {
			m.Shop.Address = append(m.Shop.Address, fmt.Sprint("another line ", n))
			m.Cylinders[1].Lines = append(m.Cylinders[1].Lines, fmt.Sprint("another remark ", n))
			m.Texts.CautionList = append(slices.Clone(m.Texts.CautionList), fmt.Sprint("another caution ", n))
		}
		pages := pagesOf(t, paper(t, m))
		assert.Contains(t, pages[0], m.Between.EngineChartKey, lines)
		for _, page := range pages {
			if strings.Contains(page, "another remark 0") {
				assert.Contains(t, page, fmt.Sprintf(m.Texts.ValveLine, 2, 1), lines)
				assert.Contains(t, page, m.Cylinders[1].Valves[0].States[0].Photos[0].File, lines)
			}
			assert.Equal(t, strings.Contains(page, m.Texts.Proof+" "), strings.Contains(page, m.Texts.Signature+" "), lines)
		}
	}
}

// A valve of which one side was not graded takes so little room that two stand on a page.
func TestAValveWithoutOneSideTakesLessRoom(t *testing.T) {
	in := inputOf(t, "before", "after")
	for n, p := range in.Visits[1].Photos {
		in.Visits[1].Photos[n] = p.Refuse(reason.Of(reason.TooDark))
	}
	m := build(t, in)
	require.Len(t, m.Cylinders[0].Valves, 2)
	for _, page := range pagesOf(t, paper(t, m)) {
		assert.Equal(t, strings.Contains(page, "Cylinder 1, valve 1"), strings.Contains(page, "Cylinder 1, valve 2"))
	}
}

func TestFontsAreEmbeddedAndTextIsUnicode(t *testing.T) {
	in := inputOf(t, "before")
	in.Job.Customer = "سيارة Գ"
	fonts := strings.Split(strings.TrimSpace(poppler(t, "pdffonts", paper(t, build(t, in)))), "\n")[2:]
	require.NotEmpty(t, fonts)
	embedded := regexp.MustCompile(`CID TrueType +Identity-H +yes +(yes|no) +yes`)
	for _, font := range fonts {
		assert.Regexp(t, embedded, font)
	}
	assert.Contains(t, strings.Join(fonts, "\n"), "dejavu")
}

func TestPagesRender(t *testing.T) {
	file := paper(t, full(t, "before", "after"))
	stem := filepath.Join(t.TempDir(), "page")
	poppler(t, "pdftoppm", "-r", "30", "-png", file, stem)
	pictures, err := filepath.Glob(stem + "-*.png")
	require.NoError(t, err)
	require.Len(t, pictures, len(pagesOf(t, file)))
	const margin = side * 30 / 25 // in pixels, a little more than it is
	for _, name := range pictures {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		page, err := png.Decode(bytes.NewReader(data))
		require.NoError(t, err)
		inked, size := 0, page.Bounds().Size()
		for y := range size.Y {
			for x := range size.X {
				if r, g, b, _ := page.At(x, y).RGBA(); r+g+b < 3*0xc000 {
					inked++
					require.Greater(t, x, margin-3, "%s: nothing runs into the margin", name)
					require.Less(t, x, size.X-margin+3, "%s: nothing runs into the margin", name)
				}
			}
		}
		assert.Greater(t, inked, size.X*size.Y/500, "%s is nearly empty", filepath.Base(name))
	}
}

func TestSixteenPhotosTakeLessThanTwoMegabytes(t *testing.T) {
	in := inputOf(t)
	in.Visits = []report.Source{engineOf(t, 8, 2)}
	assert.Less(t, len(written(t, build(t, in))), 2_000_000)
}

func TestSameReportGivesSameBytes(t *testing.T) {
	first := written(t, full(t, "before", "after"))
	for range 8 { // the library keeps things in maps: one equal pair might be luck
		assert.True(t, bytes.Equal(first, written(t, full(t, "before", "after"))))
	}
}

func TestPaperOfRegionAndByChoice(t *testing.T) {
	for _, c := range []struct {
		locale string
		paper  report.Paper
		size   string
	}{
		{"en-US", "", "612 x 792 pts (letter)"}, {"en-GB", "", "595.28 x 841.89 pts (A4)"},
		{"en-US", report.A4, "595.28 x 841.89 pts (A4)"}, {"en-GB", report.Letter, "612 x 792 pts (letter)"},
	} {
		in := inputOf(t, "before")
		in.Locale, in.Paper = c.locale, c.paper
		assert.Contains(t, poppler(t, "pdfinfo", paper(t, build(t, in))), c.size, c)
	}
}

func TestNamesInOtherScriptsAndWhatCannotBeWritten(t *testing.T) {
	in := inputOf(t, "before")
	in.Job.Customer, in.Job.Remarks, in.Job.Technician = "Ελένη Фёдор", "車両", strings.Repeat("Ж", 5000)
	in.Shop.Name, in.Visits[0].Engine.Inspection.Photos[0].File = strings.Repeat(
		"long name ",
		400,
	), strings.Repeat(
		"x",
		3000,
	)+".jpg"
	text := strings.Join(pagesOf(t, paper(t, build(t, in))), " ")
	assert.Contains(t, text, "Ελένη Фёдор")
	assert.Contains(t, text, "Remarks: ??")
	assert.Contains(t, text, "(U+4E21, U+8ECA)")
	assert.Equal(t, 5000, strings.Count(text, "Ж"), "a name of many lines is told to its end")
}

// What was written in lines, as an address or a list, is no list any more in one.
func TestRemarksKeepTheirLines(t *testing.T) {
	in := inputOf(t, "before")
	in.Job.Remarks = "drive belt worn\r\ncoil 3 replaced\n\n" + strings.Repeat("and more\n", 150)
	text := poppler(t, "pdftotext", "-layout", paper(t, build(t, in)), "-")
	assert.Regexp(t, `Remarks: drive belt worn *\n *coil 3 replaced *\n`, text)
	assert.Equal(t, 150, strings.Count(text, "and more"), "however many they are")
}

// Beside a chart there is room for what German calls a deposit index, in one word.
func TestTheTableBesideAChartBreaksNoWord(t *testing.T) {
	in := inputOf(t, "before")
	earlier := invented(t, "before").Engine
	earlier.Inspection.Date, earlier.Inspection.Odometer.Value = earlier.Inspection.Date.AddDate(-1, 0, 0), 20000
	in.Locale, in.History = "de-DE", []*engine.Engine{earlier}
	text := poppler(t, "pdftotext", "-layout", paper(t, build(t, in)), "-")
	_, history, found := strings.Cut(text, "Über den Kilometerstand")
	require.True(t, found)
	assert.Greater(t, strings.Count(history, "Kilometerstand  "), 1, "a table of the engine, and one of each cylinder")
	assert.Equal(t, strings.Count(history, "Kilometerstand  "), len(regexp.MustCompile(`Kilometerstand +Ablagerungsindex +95-%-Bereich`).FindAllString(history, -1)))
}

func TestAllEnginesFitThePage(t *testing.T) {
	in := inputOf(t)
	in.Visits = []report.Source{engineOf(t, 16, 3)}
	pages := pagesOf(t, paper(t, build(t, in)))
	assert.Contains(t, pages[len(pages)-1], fmt.Sprintf("Page %[1]d of %[1]d", len(pages)))
	assert.Contains(t, strings.Join(pages, " "), "Cylinder 16, valve 3")
}

// Whatever someone puts into a name, the document stands and says what it always says.
// A row of a table is not divided among pages, so no text may fill more than one.
func TestALongMethodStaysOnThePage(t *testing.T) {
	in := inputOf(t, "before", "after")
	in.Visits[1].Engine.Cylinders[0].Method = "soaked" + strings.Repeat(" again", 1200)
	text := strings.Join(pagesOf(t, paper(t, build(t, in))), " ")
	assert.Contains(t, text, "…")
	assert.GreaterOrEqual(t, strings.Count(text, "again"), 1200, "the lines of the cylinder tell it whole")
}

func TestHostileNames(t *testing.T) {
	for _, name := range []string{
		`) Tj ET Q <</S /JavaScript>> (\`, "<script>alert(1)</script>", "\u202eelttil", "two\r\nlines\tand\x00more\x1b[31m", "\xff\xfe broken \xc3", "\U0001f697\U0001f3fd",
		"\ufeff\ufffe\uffff", strings.Repeat("e\u0301\u0301\u0301", 500), strings.Repeat("سلام ", 300), "",
	} {
		in := inputOf(t, "before", "after")
		in.Shop = report.Shop{Name: name, Address: []string{name}, Phone: name, Email: name, About: name}
		in.Job.Number, in.Job.Customer, in.Job.Technician, in.Job.Remarks = name, name, name, name
		for _, v := range in.Visits {
			v.Engine.Inspection.Vehicle = "a" + name
			v.Engine.Inspection.Photos[0].File, v.Pictures[0].Absent = name, name
			for _, c := range v.Engine.Cylinders {
				c.Method = name
			}
		}
		m := build(t, in)
		file := paper(t, m)
		text := strings.Join(pagesOf(t, file), " ")
		assert.Contains(t, text, strings.ReplaceAll(m.Summary, "\u00a0", " "), "%q", name)
		assert.Contains(t, text, "Intake valve inspection")
		assert.Contains(t, poppler(t, "pdfinfo", file), "JavaScript:      no")
	}
}
