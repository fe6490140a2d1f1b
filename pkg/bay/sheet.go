package bay

import (
	"errors"
	"slices"
	"time"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

// Sheet is how an inspection stands: what a page shows of it.
type Sheet struct {
	ID       string `json:"id"`
	Name     string `json:"name"`
	Revision int    `json:"revision"`
	Facts    Facts  `json:"facts"`
	// Open are sentences on what is still to be filled in; Fault is why inspection.yaml cannot be used, "" when it can.
	Open  []string `json:"open"`
	Fault string   `json:"fault"`
	// Shots are in the order of shooting.
	Shots []Shot `json:"shots"`
	// Last is the file that was graded last of those that arrived while the inspection was open, "" for none.
	Last      string     `json:"last"`
	Cylinders []Cylinder `json:"cylinders"`
	// Worst is the number of the worst cylinder, 0 when none was measured; Median is that of all.
	Worst  int    `json:"worst"`
	Median Figure `json:"median"`
	// Notes are sentences on what contradicts itself.
	Notes []string `json:"notes"`
	// Next is the valve to shoot next, such as "2.1", "" when all are done or the engine is not known; Follow how many
	// photos of each are taken in order, 0 when they are not.
	Next   string `json:"next"`
	Follow int    `json:"follow"`
	// Undo says what would be taken back, "" for nothing.
	Undo string `json:"undo"`
	// Reading counts photos that are not graded yet.
	Reading int `json:"reading"`
}

// Facts are those of the whole inspection, empty or 0 where they are open.
type Facts struct {
	Vehicle   string         `json:"vehicle"`
	Cylinders int            `json:"cylinders"`
	Valves    int            `json:"valves"`
	Rows      [][]int        `json:"rows"`
	Date      string         `json:"date"`
	Odometer  string         `json:"odometer"`
	Stage     string         `json:"stage"`
	Methods   map[int]string `json:"methods"`
	Notes     string         `json:"notes"`
	// What an archive finds vehicle and visit by.
	Plate      string `json:"plate"`
	VIN        string `json:"vin"`
	Family     string `json:"family"`
	Job        string `json:"job"`
	Technician string `json:"technician"`
	Wish       string `json:"wish"`
}

// Cylinder is one of the engine.
type Cylinder struct {
	Number int `json:"number"`
	Figure
	Valves []Valve `json:"valves"`
}

// Valve is one of a cylinder.
type Valve struct {
	Number int `json:"number"`
	Figure
	// Photos counts those listed for it that are not left out, Used those that were measured.
	Photos    int        `json:"photos"`
	Used      int        `json:"used"`
	Overruled *Overruled `json:"overruled"`
}

// Overruled is a grade that a person gave beside the measured one.
type Overruled struct {
	Grade  int    `json:"grade"`
	Name   string `json:"name"`
	By     string `json:"by"`
	Reason string `json:"reason"`
}

// Sheet returns how the inspection stands.
func (j *Job) Sheet() *Sheet {
	j.lock.Lock()
	defer j.lock.Unlock()
	f := j.form
	s := &Sheet{
		ID: j.id, Name: j.name(), Revision: j.revision, Follow: j.follow, Last: j.last, Open: []string{}, Notes: []string{}, Shots: []Shot{},
		Cylinders: []Cylinder{},
		Facts: Facts{
			Vehicle: f.Vehicle, Cylinders: f.Engine.Cylinders, Valves: f.Engine.Valves, Rows: f.Rows(), Date: f.Date,
			Odometer: f.Odometer, Stage: string(f.Stage), Methods: f.Methods, Notes: f.Notes,
			Plate: f.Card.Plate, VIN: f.Card.VIN, Family: f.Card.Family,
			Job: f.Card.Job, Technician: f.Card.Technician, Wish: f.Card.Wish,
		},
	}
	if j.fault != nil {
		s.Fault = faultOf(j.fault)
	}
	for _, open := range f.Open() {
		s.Open = append(s.Open, open.Text)
	}
	if p, open := j.next(0); open {
		s.Next = p.String()
	}
	if len(j.changes) > 0 {
		s.Undo = j.changes[len(j.changes)-1].words
	}
	for _, shot := range j.inOrder() {
		if shot.state != graded {
			s.Reading++
		}
		s.Shots = append(s.Shots, shot.told(f))
	}
	for _, trouble := range []string{j.trouble, j.unkept} {
		if trouble != "" {
			s.Notes = append(s.Notes, trouble)
		}
	}
	j.tellEngine(s)
	return s
}

// faultOf is what is wrong with inspection.yaml, a line for each fault, without the folder's path.
func faultOf(err error) string {
	var wrong *inspection.FileError
	if errors.As(err, &wrong) {
		return (&inspection.FileError{Path: inspection.File, Faults: wrong.Faults}).Error()
	}
	return inspection.File + ": " + cause(err).Error()
}

// tellEngine adds what the photos say together. The lock is held.
func (j *Job) tellEngine(s *Sheet) {
	graded, err := j.graded()
	if err != nil {
		if !errors.Is(err, ErrNoEngine) {
			s.Notes = append(s.Notes, err.Error())
		}
		return
	}
	e := graded.Engine
	s.Worst, s.Median = e.WorstCylinder, figureOf(indexOnly(e.Median), e.MedianGrades, "")
	for _, c := range e.Cylinders {
		cylinder := Cylinder{Number: c.Number, Figure: figureOf(darkAndIndex(c.Dark, c.Index), c.Grades, c.BuildUp)}
		for _, v := range c.Valves {
			valve := Valve{Number: v.Number, Figure: figureOf(v.Reading, v.Grades, v.BuildUp), Used: v.Used}
			for _, p := range j.form.Photos {
				if p.Cylinder == c.Number && slices.Contains(p.Valves, v.Number) && p.LeftOut == nil {
					valve.Photos++
				}
			}
			if o := e.Inspection.Overruling(c.Number, v.Number); o != nil {
				valve.Overruled = &Overruled{o.Grade, grade.Names()[o.Grade], o.By, o.Reason}
			}
			cylinder.Valves = append(cylinder.Valves, valve)
		}
		s.Cylinders = append(s.Cylinders, cylinder)
	}
	if s.Reading == 0 {
		s.Notes = append(s.Notes, e.Notes...)
	}
}

// graded brings together what is graded so far, whatever facts are still open. The lock is held.
func (j *Job) graded() (*engine.Graded, error) {
	f := j.form
	if f.Engine.Cylinders == 0 || f.Engine.Valves == 0 {
		return nil, ErrNoEngine
	}
	i := &inspection.Inspection{
		Dir: j.dir, Vehicle: f.Vehicle, Engine: f.Engine, Banks: f.Banks, Stage: f.Stage, Methods: f.Methods, Notes: f.Notes,
		Overruled: f.Overruled,
	}
	if whole, err := f.Inspection(j.dir); err == nil {
		i = whole
		i.Photos = nil
	}
	i.Date, _ = time.Parse(time.DateOnly, f.Date) // the zero time where it is open
	records := score.NewDocument(j.bay.Version())
	for _, e := range f.Photos {
		s, known := j.shots[e.File]
		if !known || s.state != graded {
			continue
		}
		for n, valve := range e.Valves {
			p := inspection.Photo{File: e.File, Cylinder: e.Cylinder, Valve: valve, LeftOut: e.LeftOut}
			if len(e.Valves) > 1 {
				p.FromLeft = n + 1
			}
			i.Photos = append(i.Photos, p)
		}
	}
	i.Sort()
	for _, file := range i.Files() {
		records.Photos = append(records.Photos, j.shots[file].records...)
	}
	return engine.Of(i, records)
}
