package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
)

// kind is one kind of file that the program reads: good examples to spoil, and how to have one read.
type kind struct {
	name string
	// good are whole files, text says that they are to be spoilt as text, too.
	good [][]byte
	text bool
	// place is the name of the spoilt file in the folder of a case, beside are files that it needs there.
	place  string
	beside map[string][]byte
	// commands are the runs to choose from, in the folder of the case.
	commands [][]string
}

const form = "vehicle: van 7\nengine: {cylinders: 1, valves: 1}\ndate: 2026-03-14\nodometer: 45210 mi\nstage: routine\n" +
	"methods: {1: walnut shells}\nnotes: |\n  oil\n  changed\nphotos:\n  - {file: a.jpg, cylinder: 1, valve: 1}\n"

const marks = "head:\n  centre: [320, 250.5]\n  axes: [180, 120]\n  angle: 12\nstem:\n  from: [300, 20]\n  to: [318, 190]\n  width: 44\n"

const shop = "name: Somewhere Valves\naddress: |\n  1 Some Street\n  Sometown\nphone: 555 0100\nemail: a@example.org\nabout: we clean\nlogo: logo.png\n"

const list = "photo,rater,grade,index,valve\na.jpg,Ann,3,52.5,1\na.jpg,Bob,4,61,1\nb.jpg,Ann,1,9,2\nb.jpg,Bob,0,1,2\n"

// loadKinds collects the good files, those that only the program can make among them.
func loadKinds(program, work string) ([]kind, error) {
	photos, err := read(
		"testdata/engine/cyl1-valve1-before.jpg",
		"testdata/singles/single-01.jpg",
		"pkg/photo/testdata/*",
	)
	if err != nil {
		return nil, err
	}
	photo := photos[0]
	logo, err := read("pkg/photo/testdata/deep.png")
	if err != nil {
		return nil, err
	}
	history, err := read("testdata/history/*.json")
	if err != nil {
		return nil, err
	}
	net, err := read("internal/net/reader.onnx")
	if err != nil {
		return nil, err
	}
	saved, reports, err := made(program, work, photo)
	if err != nil {
		return nil, err
	}
	job := map[string][]byte{"job/a.jpg": photo, "job/inspection.yaml": []byte(form)}
	with := func(more map[string][]byte) map[string][]byte {
		all := map[string][]byte{"a.jpg": photo, "good.json": history[0]}
		for _, files := range []map[string][]byte{job, more} {
			for name, content := range files {
				all[name] = content
			}
		}
		return all
	}
	score := []string{"score", "--json", "out.json"}
	return []kind{
		{name: "photo", good: photos, place: "photo", beside: with(nil), commands: [][]string{
			append(
				score,
				"photo",
			), append(score, "--head", "320,240,150,120,0", "--overlay", "seen", "photo"), {"init", "."}, {"compare", "photo", "a.jpg"}}},
		{
			name:   "marks",
			good:   [][]byte{[]byte(marks)},
			text:   true,
			place:  "a.jpg.marks.yaml",
			beside: with(nil),
			commands: [][]string{
				append(score, "a.jpg"), append(score, "--marks", "a.jpg.marks.yaml", "--masks", "masks", "job/a.jpg")},
		},
		{
			name:   "inspection",
			good:   [][]byte{[]byte(form)},
			text:   true,
			place:  "job/inspection.yaml",
			beside: with(nil),
			commands: [][]string{
				append(score, "job"), {"trend", "job"}, {"report", "--format", "json", "--out", "out.json", "job"}},
		},
		{
			name:   "shop",
			good:   [][]byte{[]byte(shop)},
			text:   true,
			place:  "shop.yaml",
			beside: with(map[string][]byte{"logo.png": logo[0]}),
			commands: [][]string{
				{"report", "--shop", "shop.yaml", "--out", "out.html", "good.json"}},
		},
		{name: "logo", good: append(logo, photo), place: "logo.png", beside: with(nil), commands: [][]string{
			{"report", "--logo", "logo.png", "--out", "out.pdf", "good.json"}}},
		{
			name:   "saved result",
			good:   append(saved, history...),
			text:   true,
			place:  "saved.json",
			beside: with(nil),
			commands: [][]string{
				{
					"trend",
					"--json",
					"out.json",
					"--chart",
					"out.svg",
					"saved.json",
					"good.json",
				}, {"compare", "--json", "out.json", "saved.json", "good.json"},
				{
					"report",
					"--out",
					"out.html",
					"saved.json",
				}, {"report", "--out", "out.csv", "saved.json", "good.json"},
				{"verify", "saved.json", "job"}, {"agree", "--results", "saved.json", "list.csv"}},
		},
		{
			name:     "report",
			good:     reports,
			text:     true,
			place:    "report.json",
			beside:   with(nil),
			commands: [][]string{{"verify", "report.json", "job"}},
		},
		{
			name:   "ratings",
			good:   [][]byte{[]byte(list)},
			text:   true,
			place:  "list.csv",
			beside: with(nil),
			commands: [][]string{
				{
					"agree",
					"list.csv",
				}, {"agree", "--all-pairs", "--json", "out.json", "--chart", "out.svg", "list.csv"}},
		},
		{
			name:     "net",
			good:     net,
			place:    "net.onnx",
			beside:   with(nil),
			commands: [][]string{append(score, "--net", "net.onnx", "a.jpg")},
		},
	}, nil
}

// made has the program make a saved result and a report.
func made(program, work string, photo []byte) (saved, reports [][]byte, err error) {
	job := filepath.Join(work, "made", "job")
	if err := os.MkdirAll(job, 0o755); err != nil {
		return nil, nil, err
	}
	for name, content := range map[string][]byte{"a.jpg": photo, "inspection.yaml": []byte(form)} {
		if err := os.WriteFile(filepath.Join(job, name), content, 0o644); err != nil {
			return nil, nil, err
		}
	}
	for _, args := range [][]string{{"score", "--json", "saved.json", "job"}, {"report", "--out", "report.json", "job"}} {
		run := exec.Command(program, args...)
		run.Dir = filepath.Dir(job)
		if out, err := run.CombinedOutput(); err != nil {
			return nil, nil, fmt.Errorf("%v: %w: %s", args, err, out)
		}
	}
	if saved, err = read(filepath.Join(work, "made", "saved.json")); err != nil {
		return nil, nil, err
	}
	reports, err = read(filepath.Join(work, "made", "report.json"))
	return saved, reports, err
}

// read returns the files that match the patterns, in order.
func read(patterns ...string) (files [][]byte, err error) {
	for _, pattern := range patterns {
		paths, err := filepath.Glob(pattern)
		if err != nil {
			return nil, err
		}
		if len(paths) == 0 {
			return nil, fmt.Errorf("nothing matches %s", pattern)
		}
		for _, path := range paths {
			content, err := os.ReadFile(path)
			if err != nil {
				return nil, err
			}
			files = append(files, content)
		}
	}
	return files, nil
}
