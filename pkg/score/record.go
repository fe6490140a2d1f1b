package score

import (
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
	"valvegrade/pkg/unroll"
)

// Record is a Result in its stable written form, schema 1: one object per photo. What was not measured is null.
//
// Fields are in the order of the contract; schema.json says the same in JSON Schema.
type Record struct {
	// Photo is the file name as given, SHA256 the hash of the file's bytes, Width and Height the upright picture's pixels.
	Photo  string  `json:"photo"`
	SHA256 *string `json:"sha256"`
	Width  *int    `json:"width"`
	Height *int    `json:"height"`
	// Taken is the EXIF time, YYYY-MM-DDThh:mm:ss in the camera's own, unstated zone.
	Taken   *string         `json:"taken"`
	Status  Status          `json:"status"`
	Reasons []reason.Reason `json:"reasons"`
	// Grade, GradeName and Borderline are null for a refused photo; Scale is the version of the scale.
	Grade      *int    `json:"grade"`
	GradeName  *string `json:"grade_name"`
	Borderline *bool   `json:"borderline"`
	Scale      int     `json:"scale"`
	Figures
	// Head and Stem are null when not visible.
	Head    *RegionFigures `json:"head"`
	Stem    *RegionFigures `json:"stem"`
	Colour  *Colour        `json:"colour"`
	Texture *Texture       `json:"texture"`
	// RegionSource is auto or marks; RegionConfidence, 0 to 1, the expected overlap of the outline with the truth.
	RegionSource     *region.Source `json:"region_source"`
	RegionConfidence Number         `json:"region_confidence"`
	Version          string         `json:"version"`

	// Label names the files LABEL.region.png, LABEL.deposit.png and LABEL.overlay.png; it is unique within a document.
	Label string `json:"label"`
	// Pixels counts all pixels of the valve, Unreadable is the share of them that was set aside, 0 to 1.
	Pixels     *int   `json:"pixels"`
	Unreadable Number `json:"unreadable"`
	// Formula is the second reading, by a formula from relief, sheen and tint, without the net.
	Formula *Reading `json:"formula"`
	Quality *Quality `json:"quality"`
	// HeadEllipse and StemLine are the fitted geometry in photo pixels.
	HeadEllipse *HeadEllipse `json:"head_ellipse"`
	StemLine    *StemLine    `json:"stem_line"`

	// Map is the valve rolled out flat, which comparing needs; nil unless asked for, and after reading: it is not written.
	Map *unroll.Map `json:"-"`
}

// ByHand reports whether the outlines were set by hand. Their confidence is 1 because they are taken at their word, and no expectation.
func (r *Record) ByHand() bool { return r.RegionSource != nil && *r.RegionSource == region.ByHand }

// Reading is deposit index and coverage, 0 to 100, with their 95 % intervals.
type Reading struct {
	Index        Number `json:"index"`
	IndexLow     Number `json:"index_low"`
	IndexHigh    Number `json:"index_high"`
	Coverage     Number `json:"coverage"`
	CoverageLow  Number `json:"coverage_low"`
	CoverageHigh Number `json:"coverage_high"`
}

// Figures are a reading with the shares of the deposit classes among readable pixels.
type Figures struct {
	Reading
	Shares *Shares `json:"shares"`
}

// Shares of readable pixels; they sum to 1.
type Shares struct {
	Bare   Number `json:"bare"`
	Film   Number `json:"film"`
	Medium Number `json:"medium"`
	Heavy  Number `json:"heavy"`
}

// RegionFigures are the figures of the head or the stem alone.
type RegionFigures struct {
	Figures
	Pixels     int    `json:"pixels"`
	Unreadable Number `json:"unreadable"`
}

// Colour of deposit and bare metal in CIELAB (D65, 2 degree observer), and how they differ.
type Colour struct {
	DepositL       Number `json:"deposit_l_star"`
	DepositA       Number `json:"deposit_a_star"`
	DepositB       Number `json:"deposit_b_star"`
	BareL          Number `json:"bare_l_star"`
	BareA          Number `json:"bare_a_star"`
	BareB          Number `json:"bare_b_star"`
	DifferenceDE00 Number `json:"difference_ciede2000"`
	DarknessL      Number `json:"darkness_l_star"`
}

// Texture of the readable surface: co-occurrence figures, local binary pattern, relief energy.
type Texture struct {
	Contrast     Number `json:"contrast_glcm"`
	Entropy      Number `json:"entropy_glcm_bits"`
	Correlation  Number `json:"correlation_glcm"`
	Homogeneity  Number `json:"homogeneity_glcm"`
	LBPEntropy   Number `json:"entropy_lbp_bits"`
	ReliefFine   Number `json:"relief_fine_share"`
	ReliefCoarse Number `json:"relief_coarse_share"`
}

// Quality says how well the valve could be seen. Lengths are in pixels of a frame
// whose long side has 640.
type Quality struct {
	ValveShare     Number `json:"valve_share"`
	ValveRadius    Number `json:"valve_radius_px"`
	Luminance      Number `json:"luminance_share"`
	FrameLuminance Number `json:"frame_luminance_share"`
	Signal         Number `json:"signal_to_noise"`
	Black          Number `json:"black_share"`
	Glare          Number `json:"glare_share"`
	BlurSigma      Number `json:"blur_sigma_px"`
	Motion         Number `json:"motion_px"`
}

// HeadEllipse is the head's outline: centre, semi-axes, and the angle of the major axis in degrees, clockwise as seen.
type HeadEllipse struct {
	X     Number `json:"x_px"`
	Y     Number `json:"y_px"`
	A     Number `json:"a_px"`
	B     Number `json:"b_px"`
	Angle Number `json:"angle_deg"`
}

// StemLine is the stem's centre line from its far end to the head, and its mean width.
type StemLine struct {
	X1    Number `json:"x1_px"`
	Y1    Number `json:"y1_px"`
	X2    Number `json:"x2_px"`
	Y2    Number `json:"y2_px"`
	Width Number `json:"width_px"`
}
