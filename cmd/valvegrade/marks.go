package main

import (
	"github.com/urfave/cli/v2"

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
