package report

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"image/color"
	"io"
	"strings"
	"sync"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"

	"valvegrade/internal/chart"
	"valvegrade/internal/ramp"
	"valvegrade/internal/report/texts"
)

//go:embed page
var pageFiles embed.FS

// The parts of the page, read when the first is written: most commands write none. The template package escapes
// everything that comes from outside for the place where it stands.
var pageTemplate = sync.OnceValue(func() *template.Template {
	return template.Must(
		template.New("page.tmpl").Funcs(template.FuncMap{"data": dataURL}).ParseFS(pageFiles, "page/*.tmpl"),
	)
})

// page is the model as the template reads it.
type page struct {
	*Model
	T      *texts.Texts
	Style  template.CSS
	Script template.JS
	// EngineChart is a picture of the index of every cylinder.
	EngineChart template.URL
}

// WriteHTML writes one self-contained page. It loads nothing: pictures are inside, and its content policy forbids every
// request and every script and style but its own.
func (m *Model) WriteHTML(w io.Writer) error {
	script, err := pageFiles.ReadFile("page/divider.js")
	if err != nil {
		return err
	}
	style, err := pageFiles.ReadFile("page/style.css")
	if err != nil {
		return err
	}
	engine, err := chartURL(m.EngineChart(), EngineChartWidth, EngineChartHeight)
	if err != nil {
		return err
	}
	p := page{
		Model:       m,
		T:           m.Texts,
		Style:       rampStyle() + template.CSS(style),
		Script:      template.JS(script),
		EngineChart: engine,
	}
	var text bytes.Buffer // a failure must not leave half a page
	if err := pageTemplate().Execute(&text, p); err != nil {
		return fmt.Errorf("report: %w", err)
	}
	_, err = w.Write(text.Bytes())
	return err
}

// Policy allows the page's own style and script, known by their hashes, and pictures inside the page.
func (p page) Policy() string {
	return fmt.Sprintf(
		"default-src 'none'; img-src data:; style-src '%s'; script-src '%s'; base-uri 'none'; form-action 'none'",
		sourceHash(string(p.Style)),
		sourceHash(string(p.Script)),
	)
}

func sourceHash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}

// rampStyle names the colours of the ramp for the style sheet.
func rampStyle() template.CSS {
	var css strings.Builder
	css.WriteString(":root{")
	for value := range 5 {
		fmt.Fprintf(&css, "--g%d:%s;", value, hex(ramp.Grade(value)))
	}
	css.WriteString("}\n")
	return template.CSS(css.String())
}

func hex(c color.RGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

func dataURL(p *Picture) template.URL {
	return template.URL("data:" + p.Type + ";base64," + base64.StdEncoding.EncodeToString(p.Data))
}

// chartURL turns a chart into a picture inside the page.
func chartURL(p *plot.Plot, width, height vg.Length) (template.URL, error) {
	var svg bytes.Buffer
	if err := chart.Write(&svg, p, width, height, "svg"); err != nil {
		return "", err
	}
	return dataURL(&Picture{Type: "image/svg+xml", Data: svg.Bytes()}), nil
}
