package score

import (
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
	"valvegrade/pkg/unroll"
)

// Record is a Result in its stable written form, schema 1: one object per valve of a photo. What was not measured is
// null.
//
// Fields are in the order of the contract; schema.json says the same in JSON Schema.
type Record struct {
	// Photo is the file name as given.
	Photo string `json:"photo"`
	// ValveInPhoto is the place of the valve, 1 to ValvesInPhoto from left to right; both are 1 for a refused photo.
	ValveInPhoto  int `json:"valve_in_photo"`
	ValvesInPhoto int `json:"valves_in_photo"`
	// SHA256 is the hash of the file's bytes, Width and Height are the upright picture's pixels.
	SHA256 *string `json:"sha256"`
	Width  *int    `json:"width"`
	Height *int    `json:"height"`
	// Taken is the EXIF time, YYYY-MM-DDThh:mm:ss in the camera's own, unstated zone.
	Taken   *string         `json:"taken"`
	Status  Status          `json:"status"`
	Reasons []reason.Reason `json:"reasons"`
	// Grade, GradeName and Borderline are null for a refused photo; Scale is the version of the scale.
	grade.Written
	Scale int `json:"scale"`
	Figures
	// BuildUp says whether the dark deposit is thick, thin, or unknown.
	BuildUp *deposit.BuildUp `json:"build_up"`
	WrittenThick
	// Head and Stem are null when not visible.
	Head    *RegionFigures `json:"head"`
	Stem    *RegionFigures `json:"stem"`
	Colour  *Colour        `json:"colour"`
	Texture *Texture       `json:"texture"`
	// RegionSource is auto or marks; RegionConfidence, 0 to 1, the expected overlap of the outline with the truth.
	RegionSource     *region.Source `json:"region_source"`
	RegionConfidence measure.Number `json:"region_confidence"`
	Version          string         `json:"version"`

	// Label names the files LABEL.region.png, LABEL.deposit.png and LABEL.overlay.png of the photo; photos of a
	// document have different ones.
	Label string `json:"label"`
	// Pixels counts all pixels of the valve, Unreadable is the share of them that was set aside, 0 to 1.
	Pixels     *int           `json:"pixels"`
	Unreadable measure.Number `json:"unreadable"`
	Quality    *Quality       `json:"quality"`
	// OutlinedBy is who set the outlines by hand, left out where nobody did or that is not known.
	OutlinedBy string `json:"outlined_by,omitempty"`
	// Painted is the share of the valve, 0 to 1, whose classes somebody painted, PaintedBy who, where that is known;
	// both are left out where nobody did.
	Painted   *measure.Number `json:"painted,omitempty"`
	PaintedBy string          `json:"painted_by,omitempty"`
	// HeadEllipse and StemLine are the fitted geometry in photo pixels.
	HeadEllipse *HeadEllipse `json:"head_ellipse"`
	StemLine    *StemLine    `json:"stem_line"`

	// Map is the valve rolled out flat, which comparing needs; left out unless asked for.
	Map *unroll.Packed `json:"map,omitempty"`
}

// Refuse returns what is known of the photo, without a valve: the record of one that is refused for the reason.
func (r *Record) Refuse(why reason.Reason) Record {
	return Record{
		Photo: r.Photo, ValveInPhoto: 1, ValvesInPhoto: 1, SHA256: r.SHA256, Width: r.Width, Height: r.Height, Taken: r.Taken, Status: Refused,
		Reasons: []reason.Reason{why}, Scale: r.Scale, Version: r.Version, Label: r.Label,
	}
}

// Odds returns the probabilities of the valve's grades, of a result of a version that had none those of its interval;
// they are not known of a refused photo.
func (r *Record) Odds() grade.Probabilities {
	if p := r.Written.Odds(); p.Known() {
		return p
	}
	return grade.OfInterval(r.IndexFigure())
}

// ByHand reports whether the outlines were set by hand. Their confidence is 1 because they are taken at their word, and
// no expectation.
func (r *Record) ByHand() bool { return r.RegionSource != nil && *r.RegionSource == region.ByHand }

// WrittenThick is the percentage of the dark deposit that is heavy, with its 95 % interval, and the probability that it
// is most of it.
type WrittenThick struct {
	Thick       measure.Number `json:"thick_share"`
	ThickLow    measure.Number `json:"thick_share_low"`
	ThickHigh   measure.Number `json:"thick_share_high"`
	ThickChance measure.Number `json:"thick_probability"`
}

// WriteThick returns the written form.
func WriteThick(h deposit.MostlyHeavy) WrittenThick {
	thick := h.Share.Write(measure.PointDecimals)
	return WrittenThick{thick.Value, thick.Low, thick.High, share(h.Chance)}
}

// Heavy reads how thick the dark deposit is; of results that have a word alone, what that says.
func (r *Record) Heavy() deposit.MostlyHeavy {
	h := deposit.MostlyHeavy{
		Share:  measure.Figure{Value: r.Thick.Value(), Low: r.ThickLow.Value(), High: r.ThickHigh.Value()},
		Chance: r.ThickChance.Value(),
	}
	if !r.ThickChance.Known() && r.BuildUp != nil {
		h.Chance = r.BuildUp.Chance()
	}
	return h
}

// Figures are a reading with the shares of the deposit classes among readable pixels.
type Figures struct {
	measure.WrittenReading
	Shares *measure.WrittenShares `json:"shares"`
}

// RegionFigures are the figures of the head or the stem alone.
type RegionFigures struct {
	Figures
	Pixels     int            `json:"pixels"`
	Unreadable measure.Number `json:"unreadable"`
}

// Colour of deposit and bare metal in CIELAB (D65, 2 degree observer), and how they differ.
type Colour struct {
	DepositL       measure.Number `json:"deposit_l_star"`
	DepositA       measure.Number `json:"deposit_a_star"`
	DepositB       measure.Number `json:"deposit_b_star"`
	BareL          measure.Number `json:"bare_l_star"`
	BareA          measure.Number `json:"bare_a_star"`
	BareB          measure.Number `json:"bare_b_star"`
	DifferenceDE00 measure.Number `json:"difference_ciede2000"`
	DarknessL      measure.Number `json:"darkness_l_star"`
}

// Texture of the readable surface: co-occurrence figures, local binary pattern, relief energy.
type Texture struct {
	Contrast     measure.Number `json:"contrast_glcm"`
	Entropy      measure.Number `json:"entropy_glcm_bits"`
	Correlation  measure.Number `json:"correlation_glcm"`
	Homogeneity  measure.Number `json:"homogeneity_glcm"`
	LBPEntropy   measure.Number `json:"entropy_lbp_bits"`
	ReliefFine   measure.Number `json:"relief_fine_share"`
	ReliefCoarse measure.Number `json:"relief_coarse_share"`
}

// Quality says how well the valve could be seen. Lengths are in pixels of a frame
// whose long side has 640.
type Quality struct {
	ValveShare     measure.Number `json:"valve_share"`
	ValveRadius    measure.Number `json:"valve_radius_px"`
	Luminance      measure.Number `json:"luminance_share"`
	FrameLuminance measure.Number `json:"frame_luminance_share"`
	Signal         measure.Number `json:"signal_to_noise"`
	Black          measure.Number `json:"black_share"`
	Glare          measure.Number `json:"glare_share"`
	BlurSigma      measure.Number `json:"blur_sigma_px"`
	Motion         measure.Number `json:"motion_px"`
}

// HeadEllipse is the head's outline: centre, semi-axes, and the angle of the major axis in degrees, clockwise as seen.
type HeadEllipse struct {
	X     measure.Number `json:"x_px"`
	Y     measure.Number `json:"y_px"`
	A     measure.Number `json:"a_px"`
	B     measure.Number `json:"b_px"`
	Angle measure.Number `json:"angle_deg"`
}

// StemLine is the stem's centre line from its far end to the head, and its mean width.
type StemLine struct {
	X1    measure.Number `json:"x1_px"`
	Y1    measure.Number `json:"y1_px"`
	X2    measure.Number `json:"x2_px"`
	Y2    measure.Number `json:"y2_px"`
	Width measure.Number `json:"width_px"`
}
