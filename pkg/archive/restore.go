package archive

import (
	"archive/tar"
	"bufio"
	"bytes"
	"context"
	"database/sql"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"valvegrade/internal/limit"
	"valvegrade/pkg/archive/store"
)

// ErrNotEmpty is returned for restoring into an archive that has inspections.
var ErrNotEmpty = errors.New("a backup is restored into an empty archive, and this one has inspections")

// ErrBackup is wrapped by errors about a file that is no whole backup.
var ErrBackup = errors.New("not a whole backup of an archive")

// Restore reads what Backup wrote into this archive, which must be empty: all rows and photos, or none. Photos are held
// against their hash. A backup of several shops fits into a shared database only, one of a single shop into either kind.
func (a *Archive) Restore(ctx context.Context, r io.Reader) error {
	in := tar.NewReader(r)
	if err := readManifest(in); err != nil {
		return err
	}
	var put []string
	// Once: what was read of the backup cannot be read again.
	err := a.once(ctx, func(tx *sql.Tx) error {
		w := a.writer(ctx, tx, a.shop)
		switch n, err := w.number(`SELECT COUNT(*) FROM inspection`); {
		case err != nil:
			return err
		case n > 0:
			return ErrNotEmpty
		}
		shops := map[string]bool{}
		for _, table := range tables {
			header, err := in.Next()
			if err != nil || header.Name != "tables/"+table+".jsonl" {
				return fmt.Errorf("%w: the rows of %s are missing", ErrBackup, table)
			}
			if err := a.restoreTable(w, in, table, shops); err != nil {
				return err
			}
		}
		if err := w.do(sumCleanings+byCleaning, least); err != nil {
			return err
		}
		if err := a.restorePhotos(ctx, in, &put); err != nil {
			return err
		}
		return a.renumber(w)
	})
	if err == nil {
		return nil
	}
	err = Explain(err)
	for _, key := range put {
		err = errors.Join(err, a.photos.Delete(context.WithoutCancel(ctx), key))
	}
	return err
}

func readManifest(in *tar.Reader) error {
	header, err := in.Next()
	if err != nil || header.Name != manifestName {
		return ErrBackup
	}
	text, err := limit.Read(in, 1<<16)
	var m manifest
	if err != nil || json.Unmarshal(text, &m) != nil || m.Kind != backupKind {
		return ErrBackup
	}
	if m.Format > Format {
		return &NewerError{m.Format, m.Program}
	}
	if m.Format < oldestBackup {
		return fmt.Errorf(
			"the backup is of format %d: restore it with valvegrade %s and let this program bring it to %d",
			m.Format,
			m.Program,
			Format,
		)
	}
	return nil
}

// oldestBackup is the first format whose rows are still those of today.
const oldestBackup = 2

// longestRow bounds a line of a backup; a result takes about a kilobyte.
const longestRow = 16 << 20

func (a *Archive) restoreTable(w writer, in io.Reader, table string, shops map[string]bool) error {
	lines := bufio.NewScanner(in)
	lines.Buffer(nil, longestRow)
	columns, err := a.columnsOf(w, table)
	if err != nil {
		return err
	}
	for lines.Scan() {
		row, err := decodeRow(lines.Bytes(), table)
		if err != nil {
			return err
		}
		values := make([]any, len(columns))
		for n, column := range columns {
			values[n] = row[column]
			if column == "shop" {
				name, _ := row[column].(string)
				shops[name] = true
				if !a.location.Shared() && len(shops) > 1 {
					return errors.New("the backup is of several shops, and a file holds one: restore it into a database")
				}
				values[n] = a.restoredShop(name)
			}
		}
		err = w.do("INSERT INTO "+table+" ("+strings.Join(columns, ", ")+") VALUES "+places(1, len(columns)), values...)
		if err != nil {
			return err
		}
	}
	if err := lines.Err(); err != nil {
		return fmt.Errorf("%w: %w", ErrBackup, err)
	}
	return nil
}

// restoredShop is whose rows they become: a file's become this login's, and in a file there is one shop.
func (a *Archive) restoredShop(name string) string {
	if name == "" || !a.location.Shared() {
		return a.shop
	}
	return name
}

// columnsOf are those of this program, so that a backup can name no others.
func (a *Archive) columnsOf(w writer, table string) ([]string, error) {
	found, err := w.tx.QueryContext(w.ctx, "SELECT * FROM "+table+" WHERE 1 = 0")
	if err != nil {
		return nil, err
	}
	defer found.Close()
	return found.Columns()
}

// decodeRow reads a line. Whole numbers stay whole, and the record of a result is bytes.
func decodeRow(line []byte, table string) (map[string]any, error) {
	decoder := json.NewDecoder(bytes.NewReader(line))
	decoder.UseNumber()
	var row map[string]any
	if err := decoder.Decode(&row); err != nil {
		return nil, fmt.Errorf("%w: a row of %s cannot be read", ErrBackup, table)
	}
	for column, value := range row {
		switch v := value.(type) {
		case json.Number:
			whole, err := strconv.ParseInt(v.String(), 10, 64)
			if err == nil {
				row[column] = whole
				continue
			}
			broken, err := v.Float64()
			if err != nil {
				return nil, fmt.Errorf("%w: a row of %s has the number %s", ErrBackup, table, v)
			}
			row[column] = broken
		case string:
			if table == "result" && column == "record" {
				data, err := base64.StdEncoding.DecodeString(v)
				if err != nil {
					return nil, fmt.Errorf("%w: a record cannot be read", ErrBackup)
				}
				row[column] = data
			}
		}
	}
	return row, nil
}

// restorePhotos puts the photos into the store, and adds the keys of those that were not there to put. A backup without
// them restores figures alone.
func (a *Archive) restorePhotos(ctx context.Context, in *tar.Reader, put *[]string) error {
	for {
		header, err := in.Next()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("%w: %w", ErrBackup, err)
		}
		if a.photos == nil {
			return ErrNoPhotos
		}
		data, err := limit.Read(in, limit.PhotoBytes)
		if err != nil {
			return fmt.Errorf("%w: %w", ErrBackup, err)
		}
		shop, hash, err := readKey(header.Name)
		if err != nil {
			return err
		}
		if Hash(data) != hash {
			return fmt.Errorf("%w: photo %.12s does not match its hash", ErrBackup, hash)
		}
		name := key(a.restoredShop(shop), hash)
		switch _, err := a.photos.Size(ctx, name); {
		case errors.Is(err, store.ErrMissing):
			*put = append(*put, name)
		case err != nil:
			return err
		}
		if err := a.photos.Put(ctx, name, data); err != nil {
			return err
		}
	}
}

// renumber makes a server hand out keys after those that were restored; SQLite does so by itself.
func (a *Archive) renumber(w writer) error {
	if !a.location.Shared() {
		return nil
	}
	for _, table := range numbered {
		_, err := w.number(
			`SELECT setval(pg_get_serial_sequence('` + table + `', 'id'), COALESCE((SELECT MAX(id) FROM ` + table + `), 0) + 1, false)`,
		)
		if err != nil {
			return err
		}
	}
	return nil
}
