package archive

import (
	"context"
	"database/sql"
	"strconv"
	"strings"
)

// writer writes rows of one shop in one transaction.
type writer struct {
	ctx  context.Context
	tx   *sql.Tx
	shop string
	most int // values a statement
}

// write does work in one transaction, as a writer of this shop.
func (a *Archive) write(ctx context.Context, work func(w writer) error) error {
	return a.within(ctx, func(tx *sql.Tx) error { return work(a.writer(ctx, tx, a.shop)) })
}

func (a *Archive) writer(ctx context.Context, tx *sql.Tx, shop string) writer {
	return writer{ctx, tx, shop, mostValues[a.location.Shared()]}
}

func (w writer) do(statement string, args ...any) error {
	_, err := w.tx.ExecContext(w.ctx, statement, args...)
	return err
}

// number returns the one number that a statement gives, or sql.ErrNoRows.
func (w writer) number(statement string, args ...any) (n int64, err error) {
	err = w.tx.QueryRowContext(w.ctx, statement, args...).Scan(&n)
	return n, err
}

// numbers returns the numbers that a statement gives, one a row.
func (w writer) numbers(statement string, args ...any) ([]int64, error) {
	return list(w.ctx, w.tx, func(row *sql.Rows) (n int64, err error) {
		err = row.Scan(&n)
		return n, err
	}, statement, args...)
}

// querier is a database, or a transaction.
type querier interface {
	QueryContext(ctx context.Context, statement string, args ...any) (*sql.Rows, error)
}

// list reads all rows that a statement gives.
func list[T any](
	ctx context.Context, q querier, read func(*sql.Rows) (T, error), statement string, args ...any,
) ([]T, error) {
	found, err := q.QueryContext(ctx, statement, args...)
	if err != nil {
		return nil, Explain(err)
	}
	defer found.Close()
	var all []T
	for found.Next() {
		one, err := read(found)
		if err != nil {
			return nil, err
		}
		all = append(all, one)
	}
	return all, Explain(found.Err())
}

// rows are written by one statement, which costs one way to the server and back. Each gets the writer's shop.
type rows struct {
	table   string
	columns []string
	end     string // what follows the values, such as ON CONFLICT DO NOTHING
	values  []any
}

func into(table string, columns ...string) *rows { return &rows{table: table, columns: columns} }

func (r *rows) add(values ...any) { r.values = append(r.values, values...) }

// mostValues is how many values a statement has at most, in a file and on a server. PostgreSQL takes 65 535; the driver
// of SQLite looks through all of them for each one's place, so that many small statements are quicker.
var mostValues = map[bool]int{false: 300, true: 30_000}

// each goes through the statements that write the rows.
func (w writer) each(r *rows, do func(statement string, values []any) error) error {
	columns := append([]string{"shop"}, r.columns...)
	begin := "INSERT INTO " + r.table + " (" + strings.Join(columns, ", ") + ") VALUES "
	var values []any
	for n := 0; n < len(r.values); n += len(r.columns) {
		values = append(append(values, w.shop), r.values[n:n+len(r.columns)]...)
		if n+len(r.columns) < len(r.values) && len(values)+len(columns) <= w.most {
			continue
		}
		if err := do(begin+places(len(values)/len(columns), len(columns))+" "+r.end, values); err != nil {
			return err
		}
		values = nil
	}
	return nil
}

// insert writes the rows and returns how many of them are new.
func (w writer) insert(r *rows) (written int64, err error) {
	err = w.each(r, func(statement string, values []any) error {
		done, err := w.tx.ExecContext(w.ctx, statement, values...)
		if err != nil {
			return err
		}
		some, err := done.RowsAffected()
		written += some
		return err
	})
	return written, err
}

// keys writes the rows, whose end asks for RETURNING a key and a text, and puts them into a map by the text.
func (w writer) keys(r *rows, into map[string]int64) error {
	return w.each(r, func(statement string, values []any) error { return w.keysOf(into, statement, values...) })
}

// keysOf reads keys and texts into a map.
func (w writer) keysOf(into map[string]int64, statement string, args ...any) error {
	_, err := list(w.ctx, w.tx, func(row *sql.Rows) (id int64, err error) {
		var text string
		err = row.Scan(&id, &text)
		into[text] = id
		return id, err
	}, statement, args...)
	return err
}

// places writes the places of so many rows: ($1, $2), ($3, $4).
func places(rows, columns int) string {
	var text strings.Builder
	for n := range rows * columns {
		switch {
		case n == 0:
			text.WriteString("(")
		case n%columns == 0:
			text.WriteString("), (")
		default:
			text.WriteString(", ")
		}
		text.WriteString("$" + strconv.Itoa(n+1))
	}
	return text.String() + ")"
}
