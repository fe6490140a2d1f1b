package score

import (
	"image"
	"image/color"
	"image/draw"
	"path/filepath"

	"valvegrade/internal/ramp"
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/region"
)

// Stage is one step of the measurement as a picture, for who wants to look inside.
type Stage struct {
	// Name is one of StageNames.
	Name    string
	Picture image.Image
}

// StageNames returns the names of all stages in their order. The caller owns the slice.
func StageNames() []string { return []string{"photo", "region", "quality", "light", "classes"} }

// StageSuffix is that of a stage's picture in the name of a file.
func StageSuffix(name string) string { return ".stage-" + name + ".png" }

// WriteStages writes LABEL.stage-NAME.png for each stage of a photo's valves into dir.
func WriteStages(dir string, valves []*Result) error {
	for _, stage := range Stages(valves) {
		if err := WritePNG(filepath.Join(dir, valves[0].Label+StageSuffix(stage.Name)), stage.Picture); err != nil {
			return err
		}
	}
	return nil
}

// Stages shows the steps of the measurement of a photo's valves in their order, as far as they got: the upright photo;
// the region, heads and stems tinted; the quality, as package photo shows the exposure; the evened light of package
// deposit, valve beside valve; and the classes, each in the colour of the ramp, as it stands in NAME.deposit.png. It
// needs the results' Photo, which a batch drops after handing them on, and is empty without.
func Stages(valves []*Result) []Stage {
	p := valves[0].Photo
	if p == nil {
		return nil
	}
	stages := []Stage{{"photo", p.Pixels}}
	shown := graded(valves)
	if len(shown) == 0 {
		shown = valves // one that was refused
	}
	if shown[0].Region == nil {
		return stages
	}
	regions := regionMask(shown)
	stages = append(stages, Stage{"region", painted(p.Pixels, regions, regionColour)})
	if shown[0].Deposit == nil {
		return stages
	}
	return append(stages,
		Stage{"quality", photo.Exposed(p, regions)},
		Stage{"light", evenedLight(p, valves)},
		Stage{"classes", painted(p.Pixels, depositMask(shown), classColour)},
	)
}

// evenedLight shows the evened light of the valves that have a measurement, side by side.
func evenedLight(p *photo.Photo, valves []*Result) *image.NRGBA {
	row := image.NewNRGBA(image.Rectangle{})
	for _, r := range valves {
		if r.Deposit == nil {
			continue
		}
		one := deposit.EvenedLight(p, r.Deposit)
		left := row.Rect.Max.X
		longer := image.NewNRGBA(image.Rect(0, 0, left+one.Rect.Dx(), max(row.Rect.Max.Y, one.Rect.Dy())))
		draw.Draw(longer, row.Rect, row, image.Point{}, draw.Src)
		draw.Draw(longer, one.Rect.Add(image.Pt(left, 0)), one, one.Rect.Min, draw.Src)
		row = longer
	}
	return row
}

// regionColour is that of a value of RegionMask, where heads are odd and stems even.
func regionColour(label uint8) (color.NRGBA, bool) {
	switch {
	case label == region.Background:
		return color.NRGBA{}, false
	case label%2 == region.Head:
		return half(ramp.Steel), true
	default:
		return half(ramp.Sand), true
	}
}

// classColours are those of the classes; what has none is the photo, darkened.
var classColours = map[uint8]color.NRGBA{
	deposit.Bare: opaque(ramp.Steel), deposit.Film: opaque(ramp.Sand), deposit.Medium: opaque(ramp.Umber),
	deposit.Heavy: opaque(ramp.Soot), deposit.Unreadable: photo.Burnt,
}

func classColour(class uint8) (color.NRGBA, bool) {
	c, known := classColours[class]
	return c, known
}

func opaque(c color.RGBA) color.NRGBA { return color.NRGBA{c.R, c.G, c.B, 0xff} }
func half(c color.RGBA) color.NRGBA   { return color.NRGBA{c.R, c.G, c.B, 0x80} }

var dark = color.NRGBA{A: 0xb0}

// painted lays a colour for each label over the photo.
func painted(pixels *image.NRGBA, labels *image.Gray, colour func(label uint8) (color.NRGBA, bool)) *image.NRGBA {
	picture := image.NewNRGBA(pixels.Rect)
	for y := range pixels.Rect.Dy() {
		for x, label := range labels.Pix[y*labels.Stride:][:pixels.Rect.Dx()] {
			over, known := colour(label)
			if !known {
				over = dark
			}
			under := pixels.NRGBAAt(x, y)
			mix := func(a, b uint8) uint8 { return uint8((int(a)*(255-int(over.A)) + int(b)*int(over.A)) / 255) }
			picture.SetNRGBA(x, y, color.NRGBA{mix(under.R, over.R), mix(under.G, over.G), mix(under.B, over.B), 0xff})
		}
	}
	return picture
}
