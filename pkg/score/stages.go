package score

import (
	"image"
	"image/color"
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

// WriteStages writes LABEL.stage-NAME.png for each stage into dir.
func (r *Result) WriteStages(dir string) error {
	for _, stage := range r.Stages() {
		if err := WritePNG(filepath.Join(dir, r.Label+StageSuffix(stage.Name)), stage.Picture); err != nil {
			return err
		}
	}
	return nil
}

// Stages shows the steps of the measurement in their order, as far as the photo got: the upright photo; the region,
// head and stem tinted; the quality, as package photo shows the exposure; the evened light of package deposit; and the
// classes, each in the colour of the ramp, as it stands in NAME.deposit.png. It needs the result's Photo, which a batch
// drops after handing the result on, and is empty without.
func (r *Result) Stages() []Stage {
	if r.Photo == nil {
		return nil
	}
	stages := []Stage{{"photo", r.Photo.Pixels}}
	if r.Region == nil {
		return stages
	}
	stages = append(stages, Stage{"region", painted(r.Photo.Pixels, r.Region.Mask, regionColours)})
	if r.Deposit == nil {
		return stages
	}
	return append(stages,
		Stage{"quality", photo.Exposed(r.Photo, r.Region.Mask)},
		Stage{"light", deposit.EvenedLight(r.Photo, r.Deposit)},
		Stage{"classes", painted(r.Photo.Pixels, r.Deposit.Map, classColours)},
	)
}

// Colours by label and by class; what has none is the photo, darkened.
var (
	regionColours = map[uint8]color.NRGBA{region.Head: half(ramp.Steel), region.Stem: half(ramp.Sand)}
	classColours  = map[uint8]color.NRGBA{
		deposit.Bare: opaque(ramp.Steel), deposit.Film: opaque(ramp.Sand),
		deposit.Medium: opaque(ramp.Umber), deposit.Heavy: opaque(ramp.Soot),
		deposit.Unreadable: photo.Burnt,
	}
)

func opaque(c color.RGBA) color.NRGBA { return color.NRGBA{c.R, c.G, c.B, 0xff} }
func half(c color.RGBA) color.NRGBA   { return color.NRGBA{c.R, c.G, c.B, 0x80} }

var dark = color.NRGBA{A: 0xb0}

// painted lays a colour for each label over the photo.
func painted(pixels *image.NRGBA, labels *image.Gray, colours map[uint8]color.NRGBA) *image.NRGBA {
	picture := image.NewNRGBA(pixels.Rect)
	for y := range pixels.Rect.Dy() {
		for x, label := range labels.Pix[y*labels.Stride:][:pixels.Rect.Dx()] {
			over, known := colours[label]
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
