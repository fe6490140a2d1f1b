package main

import (
	"github.com/urfave/cli/v2"

	"valvegrade/pkg/photo"
	"valvegrade/pkg/region"
)

// handMarks returns the outlines given on the command line, nil when there are none. --head and --stem replace what the
// file of --marks says.
func handMarks(c *cli.Context) (*region.Marks, error) {
	file, head, stem := c.String("marks"), c.String("head"), c.String("stem")
	if file == "" && head == "" && stem == "" {
		return nil, nil
	}
	marks := &region.Marks{}
	if file != "" {
		var err error
		if marks, err = region.ReadMarks(file); err != nil {
			return nil, misuse("--marks: %w", err)
		}
	}
	if file == "" && head == "" {
		return nil, hinted(misuse("--stem alone does not say where the head is"), "add --head X,Y,A,B,ANGLE")
	}
	if head != "" {
		ellipse, err := region.ParseEllipse(head)
		if err != nil {
			return nil, misuse("--head: %w", err)
		}
		marks.Head = ellipse
	}
	if stem != "" {
		line, err := region.ParseStem(stem)
		if err != nil {
			return nil, misuse("--stem: %w", err)
		}
		marks.Stem = &line
	}
	return marks, nil
}

// fitting refuses marks of the command line that cannot belong to the photo: what is typed wrongly is wrong usage, while
// a file beside the photo with such marks is the photo's fault. A photo that cannot be read is refused when it is scored.
func fitting(marks *region.Marks, path string, limits photo.Limits) error {
	if marks == nil {
		return nil
	}
	p, err := photo.Read(path, limits)
	if err != nil {
		return nil
	}
	if err := marks.Check(p.Whole.X, p.Whole.Y); err != nil {
		return hinted(misuse("%q: %w", path, err), "--head, --stem and --marks count in pixels of the upright photo")
	}
	return nil
}
