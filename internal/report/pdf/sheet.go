package pdf

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image/color"
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"valvegrade/pkg/report"
)

// Margins in millimetres; the lower one holds the page number.
const (
	side   = 18
	top    = 16
	bottom = 18
)

// sheet is the document while it is drawn. Lengths are in millimetres from the upper left corner of the page.
type sheet struct {
	*fpdf.Fpdf
	width, height float64
	// pictures are those in the document, by the hashes of their data.
	pictures map[string]bool
}

func newSheet(paper report.Paper) *sheet {
	size := map[report.Paper]string{report.A4: "A4", report.Letter: "Letter"}[paper]
	s := &sheet{Fpdf: fpdf.New("P", "mm", size, ""), pictures: map[string]bool{}}
	s.SetMargins(0, 0, 0)
	s.SetAutoPageBreak(false, 0)
	s.SetCatalogSort(true) // resources in a fixed order, for the same bytes each time
	s.width, s.height = s.GetPageSize()
	return s
}

// describe fills in what a viewer tells of the document.
func (s *sheet) describe(m *report.Model) {
	y, month, d := m.Job.Date.Date()
	day := time.Date(y, month, d, 0, 0, 0, 0, time.UTC)
	s.SetCreationDate(day)
	s.SetModificationDate(day)
	s.SetTitle(fact(m.Texts.Title+" – "+m.VehicleNamed()), true)
	s.SetAuthor(fact(m.Shop.Name), true)
	s.SetCreator(fact("valvegrade "+m.Program), true)
	s.SetLang(m.Texts.Language)
	s.SetDisplayMode("fullwidth", "continuous")
}

// room is what the margins leave.
func (s *sheet) room() (width, height float64) {
	return s.width - 2*side, s.height - top - bottom
}

// write sets a line, already in visual order, with its left end on the baseline at x, y.
func (s *sheet) write(x, y float64, text string, in style) {
	s.SetTextColor(int(in.colour.R), int(in.colour.G), int(in.colour.B))
	for _, part := range spans(text, in.faces) {
		s.AddUTF8FontFromBytes(part.face.family, part.face.style, part.face.data)
		s.SetFont(part.face.family, part.face.style, in.size)
		s.Text(x, y, part.text)
		x += widthOf(part.text, in.faces) * in.mm()
	}
}

// outline lists a heading, on the current page at a height.
func (s *sheet) outline(text string, level int, y float64) {
	s.AddUTF8FontFromBytes(regular[0].family, regular[0].style, regular[0].data)
	s.SetFont(
		regular[0].family,
		regular[0].style,
		body.size,
	) // the library writes the outline in the encoding of the font
	s.Bookmark(text, level, y)
}

func (s *sheet) fill(c color.RGBA)   { s.SetFillColor(int(c.R), int(c.G), int(c.B)) }
func (s *sheet) stroke(c color.RGBA) { s.SetDrawColor(int(c.R), int(c.G), int(c.B)) }

// rule draws a thin line from x to the right.
func (s *sheet) rule(x, y, width float64, c color.RGBA) {
	s.stroke(c)
	s.SetLineWidth(0.2)
	s.Line(x, y, x+width, y)
}

// picture shows a picture in a box of its own shape. The same picture is stored once.
func (s *sheet) picture(p *report.Picture, x, y, width, height float64) {
	sum := sha256.Sum256(p.Data)
	name := hex.EncodeToString(sum[:])
	options := fpdf.ImageOptions{ImageType: p.Type[len("image/"):]}
	if !s.pictures[name] {
		s.pictures[name] = true
		info := s.RegisterImageOptionsReader(name, options, bytes.NewReader(p.Data))
		if s.Ok() {
			s.SetError(inOrder(info, len(s.pictures)))
		}
	}
	s.ImageOptions(name, x, y, width, height, false, options, 0, "")
}

// finish writes the document.
func (s *sheet) finish(w io.Writer) error {
	var document bytes.Buffer // a failure must not leave half a document
	if err := s.Output(&document); err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	_, err := w.Write(document.Bytes())
	return err
}
