// Package chart gives all charts of the program one look and writes them as SVG or PNG.
package chart

import (
	"bytes"
	"errors"
	"fmt"
	"image/color"
	"io"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// ErrFormat is returned for a format other than "svg" and "png".
var ErrFormat = errors.New("chart: format is neither svg nor png")

// Ink is the colour of text, axes and marks; Faint that of what stays in the background.
var (
	Ink   = color.RGBA{0x26, 0x22, 0x20, 0xff}
	Faint = color.RGBA{0x8a, 0x8f, 0x92, 0xff}
)

// New returns an empty chart in the house style: sans serif, thin axes.
func New(title, x, y string) *plot.Plot {
	p := plot.New()
	sans := font.Font{Typeface: "Liberation", Variant: "Sans"}
	style := func(target *font.Font, size vg.Length) {
		*target = font.From(sans, size)
	}
	p.Title.Text, p.X.Label.Text, p.Y.Label.Text = title, x, y
	style(&p.Title.TextStyle.Font, 13)
	style(&p.X.Label.TextStyle.Font, 10)
	style(&p.Y.Label.TextStyle.Font, 10)
	style(&p.X.Tick.Label.Font, 9)
	style(&p.Y.Tick.Label.Font, 9)
	style(&p.Legend.TextStyle.Font, 9)
	p.Title.Padding, p.X.Label.Padding, p.Y.Label.Padding = 8, 4, 4
	for _, axis := range []*plot.Axis{&p.X, &p.Y} {
		axis.Width, axis.Tick.Width, axis.Padding = 0.6, 0.6, 4
		axis.Color, axis.Tick.Color, axis.Label.TextStyle.Color, axis.Tick.Label.Color = Ink, Ink, Ink, Ink
	}
	p.Title.TextStyle.Color, p.Legend.TextStyle.Color = Ink, Ink
	return p
}

// Band adds a filled rectangle over the whole width of the axis from x0 to x1, between y0 and y1.
func Band(p *plot.Plot, x0, x1, y0, y1 float64, fill color.Color) {
	area, err := plotter.NewPolygon(plotter.XYs{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}})
	if err != nil {
		panic(err) // four finite corners are always a polygon
	}
	area.Color, area.LineStyle.Width = fill, 0
	p.Add(area)
}

// Line adds a straight stroke.
func Line(p *plot.Plot, from, to plotter.XY, style draw.LineStyle) {
	l, err := plotter.NewLine(plotter.XYs{from, to})
	if err != nil {
		panic(err) // two finite ends are always a line
	}
	l.LineStyle = style
	p.Add(l)
}

// Stroke returns a line style; dashes are lengths of stroke and gap, none for a full line.
func Stroke(c color.Color, width vg.Length, dashes ...vg.Length) draw.LineStyle {
	return draw.LineStyle{Color: c, Width: width, Dashes: dashes}
}

// Text adds words with their lower left corner at a point.
func Text(p *plot.Plot, at plotter.XY, words string, c color.Color) {
	l, err := plotter.NewLabels(plotter.XYLabels{XYs: plotter.XYs{at}, Labels: []string{words}})
	if err != nil {
		panic(err) // one point with one label
	}
	for i := range l.TextStyle {
		l.TextStyle[i].Color = c
		l.TextStyle[i].Font = font.From(font.Font{Typeface: "Liberation", Variant: "Sans"}, 8)
	}
	l.Offset = vg.Point{X: 3, Y: 2}
	p.Add(l)
}

// Write writes the chart with the given size as "svg" or "png" (150 pixels to the inch, and marked as one of ours: see
// IsMarked).
func Write(w io.Writer, p *plot.Plot, width, height vg.Length, format string) error {
	canvas, err := canvasOf(width, height, format)
	if err != nil {
		return err
	}
	const margin = 10
	p.Draw(draw.Crop(draw.New(canvas), margin, -margin, margin, -margin))
	var picture bytes.Buffer
	if _, err := canvas.WriteTo(&picture); err != nil {
		return fmt.Errorf("chart: %w", err)
	}
	content := picture.Bytes()
	if format == "png" {
		content = marked(content)
	}
	if _, err := w.Write(content); err != nil {
		return fmt.Errorf("chart: %w", err)
	}
	return nil
}

func canvasOf(width, height vg.Length, format string) (vg.CanvasWriterTo, error) {
	switch format {
	case "svg":
		return vgsvg.New(width, height), nil
	case "png":
		return vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseWH(width, height), vgimg.UseDPI(150))}, nil
	}
	return nil, fmt.Errorf("%w: %q", ErrFormat, format)
}
