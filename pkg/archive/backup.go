package archive

import (
	"archive/tar"
	"bufio"
	"context"
	"database/sql"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"os"
)

// A backup is a tar file: archive.json says what it is, tables/NAME.jsonl has the rows of each table, and photos/HASH
// of a shop the photos. It can be restored into either kind of database, and read without this program.

// tables are in the order in which rows can be written: what others point at first. Those that are only summed up from
// them (cleaning) are summed up again.
var tables = []string{
	"version", "vehicle", "inspection", "cylinder", "photo", "marks", "shot", "result", "overruled", "word", "near", "mention",
}

// numbered are the tables whose keys the database hands out.
var numbered = []string{"version", "vehicle", "inspection", "photo", "overruled", "word"}

const (
	manifestName = "archive.json"
	backupKind   = "valvegrade archive"
)

// manifest is what archive.json says.
type manifest struct {
	Kind    string `json:"kind"`
	Format  int    `json:"format"`
	Program string `json:"program"`
	Made    string `json:"made"`
}

// Backup writes everything to a tar file, as it is at one moment; others may go on working meanwhile. Of a shared
// database it holds what this login sees. Without photos it leaves them out.
func (a *Archive) Backup(ctx context.Context, w io.Writer, photos bool) error {
	out := tar.NewWriter(w)
	text, err := json.Marshal(manifest{backupKind, Format, a.program, now()})
	if err != nil {
		return err
	}
	if err := entry(out, manifestName, append(text, '\n')); err != nil {
		return err
	}
	hashes, err := a.backupTables(ctx, out)
	if err != nil {
		return err
	}
	if photos {
		for _, p := range hashes {
			data, err := a.photoOf(ctx, p.shop, p.hash)
			if err != nil {
				return fmt.Errorf("photo %.12s: %w (archive check names all that are missing)", p.hash, err)
			}
			if err := entry(out, key(p.shop, p.hash), data); err != nil {
				return err
			}
		}
	}
	return out.Close()
}

func entry(out *tar.Writer, name string, data []byte) error {
	if err := out.WriteHeader(&tar.Header{Name: name, Mode: 0o640, Size: int64(len(data)), Format: tar.FormatPAX}); err != nil {
		return err
	}
	_, err := out.Write(data)
	return err
}

type shopPhoto struct{ shop, hash string }

// backupTables writes all rows, as one transaction sees them, and returns the photos that they speak of.
func (a *Archive) backupTables(ctx context.Context, out *tar.Writer) ([]shopPhoto, error) {
	var photos []shopPhoto
	err := a.atOneMoment(ctx, func(tx *sql.Tx) (err error) {
		for _, table := range tables {
			if err := backupTable(ctx, tx, out, table); err != nil {
				return err
			}
		}
		photos, err = list(ctx, tx, func(row *sql.Rows) (p shopPhoto, err error) {
			err = row.Scan(&p.shop, &p.hash)
			return p, err
		}, `SELECT shop, hash FROM photo WHERE hash IS NOT NULL AND bytes IS NOT NULL ORDER BY id`)
		return err
	})
	return photos, err
}

// backupTable writes the rows of a table through a file, for a tar entry says its length first.
func backupTable(ctx context.Context, tx *sql.Tx, out *tar.Writer, table string) error {
	spool, err := os.CreateTemp("", "valvegrade-")
	if err != nil {
		return err
	}
	defer os.Remove(spool.Name())
	defer spool.Close()
	lines := bufio.NewWriter(spool)
	if err := writeRows(ctx, tx, lines, table); err != nil {
		return err
	}
	if err := lines.Flush(); err != nil {
		return err
	}
	size, err := spool.Seek(0, io.SeekCurrent)
	if err != nil {
		return err
	}
	if _, err := spool.Seek(0, io.SeekStart); err != nil {
		return err
	}
	if err := out.WriteHeader(&tar.Header{Name: "tables/" + table + ".jsonl", Mode: 0o640, Size: size, Format: tar.FormatPAX}); err != nil {
		return err
	}
	_, err = io.Copy(out, spool)
	return err
}

func writeRows(ctx context.Context, tx *sql.Tx, w io.Writer, table string) error {
	found, err := tx.QueryContext(ctx, "SELECT * FROM "+table)
	if err != nil {
		return err
	}
	defer found.Close()
	columns, err := found.Columns()
	if err != nil {
		return err
	}
	values, places := make([]any, len(columns)), make([]any, len(columns))
	for n := range values {
		places[n] = &values[n]
	}
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	for found.Next() {
		if err := found.Scan(places...); err != nil {
			return err
		}
		row := make(map[string]any, len(columns))
		for n, column := range columns {
			row[column] = values[n]
			if data, isBytes := values[n].([]byte); isBytes {
				row[column] = base64.StdEncoding.EncodeToString(data)
			}
		}
		if err := encoder.Encode(row); err != nil {
			return err
		}
	}
	return found.Err()
}
