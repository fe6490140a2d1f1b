package archive

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"

	"valvegrade/pkg/archive/store"
	"valvegrade/pkg/score"
)

// checkPhotos reads every photo, and scores those again whose results are of the version at hand.
func (a *Archive) checkPhotos(ctx context.Context, c *Checked, o CheckOptions) error {
	type photo struct {
		id         int64
		shop, hash string
		size       int
	}
	photos, err := list(ctx, a.db, func(row *sql.Rows) (p photo, err error) {
		err = row.Scan(&p.id, &p.shop, &p.hash, &p.size)
		return p, err
	}, `SELECT id, shop, hash, bytes FROM photo WHERE bytes IS NOT NULL AND hash IS NOT NULL ORDER BY id`)
	if err != nil {
		return err
	}
	if a.photos == nil {
		if len(photos) > 0 {
			return ErrNoPhotos
		}
		return nil
	}
	listed := map[string]bool{}
	for _, p := range photos {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		listed[key(p.shop, p.hash)] = true
		data, err := a.photoOf(ctx, p.shop, p.hash)
		switch c.Photos++; {
		case errors.Is(err, store.ErrMissing):
			c.fault("photo %.12s is missing in the store", p.hash)
		case err != nil:
			c.fault("%v", err)
		case len(data) != p.size:
			c.fault("photo %.12s has %d bytes, and its row says %d", p.hash, len(data), p.size)
		case o.Score != nil:
			if err := a.checkAgain(ctx, c, o, p.id, p.hash, data); err != nil {
				return err
			}
		}
	}
	return a.eachPhoto(ctx, func(key string) {
		if !listed[key] {
			c.Loose++
		}
	})
}

// eachPhoto calls do with the key of everything in the store that this login may have put there.
func (a *Archive) eachPhoto(ctx context.Context, do func(key string)) error {
	return a.photos.Each(ctx, branch(a.shop), func(key string, _ int64) error {
		do(key)
		return nil
	})
}

// checkAgain scores a photo and compares with what the same version said before.
func (a *Archive) checkAgain(
	ctx context.Context,
	c *Checked,
	o CheckOptions,
	id int64,
	hash string,
	data []byte,
) error {
	type said struct {
		marks, yaml string
		valve       int
		worth       *float64
	}
	before, err := list(ctx, a.db, func(row *sql.Rows) (s said, err error) {
		err = row.Scan(&s.marks, &s.yaml, &s.valve, &s.worth)
		return s, err
	}, `SELECT r.marks, COALESCE(m.yaml, ''), r.valve, r.worth FROM result r JOIN version n ON n.id = r.version
		LEFT JOIN marks m ON m.shop = r.shop AND m.hash = r.marks WHERE r.photo = $1 AND n.name = $2`, id, o.Version)
	if err != nil {
		return err
	}
	again := map[string][]score.Record{}
	for _, s := range before {
		if _, done := again[s.marks]; !done {
			again[s.marks] = o.Score(data, s.yaml)
			c.Again++
		}
		made := again[s.marks]
		var worth *float64
		if s.valve >= 1 && s.valve <= len(made) {
			text, err := json.Marshal(made[s.valve-1])
			if err != nil {
				return err
			}
			worth = figuresOf(&made[s.valve-1], text).worth
		}
		if !same(s.worth, worth, score.ProcessorPoints) {
			c.fault(
				"photo %.12s, valve %d: the deposit index is %s, and scoring again gives %s",
				hash,
				s.valve,
				shown(s.worth),
				shown(worth),
			)
		}
	}
	return nil
}
