package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
)

// table says how values of one kind that have an ID are kept: T as timeline has
// them, R as the file and the history do.
type table[T comparable, R any] struct {
	name    string // of the table; last_NAME of study is the highest ID ever given
	columns string // id first
	missing error
	row     func(T) R
	value   func(R) T
	fields  func(*R) []any // pointers, in the order of columns
	id      func(*T) *int64
	valid   func(*T) error
	// fits looks at what else the study holds; nil when nothing matters.
	fits  func(context.Context, *sql.Tx, *T) error
	steps func(*delta) *[]swap[R] // where a change of the study keeps them
}

// read reads the values that a clause after FROM chooses; never nil.
func (t *table[T, R]) read(ctx context.Context, tx *sql.Tx, clause string, args ...any) ([]T, error) {
	rows, err := tx.QueryContext(ctx, "SELECT "+t.columns+" FROM "+t.name+" "+clause, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	values := []T{}
	for rows.Next() {
		var r R
		if err := rows.Scan(t.fields(&r)...); err != nil {
			return nil, err
		}
		values = append(values, t.value(r))
	}
	return values, rows.Err()
}

func (t *table[T, R]) find(ctx context.Context, tx *sql.Tx, id int64) (T, error) {
	var r R
	err := tx.QueryRowContext(ctx, "SELECT "+t.columns+" FROM "+t.name+" WHERE id = ?", id).Scan(t.fields(&r)...)
	if errors.Is(err, sql.ErrNoRows) {
		err = fmt.Errorf("%w: %d", t.missing, id)
	}
	return t.value(r), err
}

// next takes the next free ID. It is not given back by undo, so that an ID
// someone has noted down never comes to mean something else.
func (t *table[T, R]) next(ctx context.Context, tx *sql.Tx) (id int64, err error) {
	last := "last_" + t.name
	err = tx.QueryRowContext(ctx, "UPDATE study SET "+last+" = "+last+" + 1 RETURNING "+last).Scan(&id)
	return id, err
}

// apply writes every After in place of its Before: first all go that go.
func (t *table[T, R]) apply(ctx context.Context, tx *sql.Tx, swaps []swap[R]) error {
	if len(swaps) == 0 {
		return nil
	}
	remove, err := tx.PrepareContext(ctx, "DELETE FROM "+t.name+" WHERE id = ?")
	if err != nil {
		return err
	}
	defer remove.Close()
	for _, s := range swaps {
		if s.Before != nil {
			if err := one(remove.ExecContext(ctx, t.fields(s.Before)[0])); err != nil {
				return err
			}
		}
	}
	places := "?" + strings.Repeat(", ?", strings.Count(t.columns, ","))
	insert, err := tx.PrepareContext(ctx, "INSERT INTO "+t.name+" ("+t.columns+") VALUES ("+places+")")
	if err != nil {
		return err
	}
	defer insert.Close()
	for _, s := range swaps {
		if s.After != nil {
			if err := one(insert.ExecContext(ctx, t.fields(s.After)...)); err != nil {
				return err
			}
		}
	}
	return nil
}

// difference plans the change from one list to another. Values without an ID in
// after are given one.
func (t *table[T, R]) difference(ctx context.Context, tx *sql.Tx, d *delta, before, after []T) error {
	swaps := t.steps(d)
	old := make(map[int64]T, len(before))
	for i := range before {
		old[*t.id(&before[i])] = before[i]
	}
	for i := range after {
		v := &after[i]
		id := t.id(v)
		was, known := old[*id]
		switch {
		case *id == 0:
			n, err := t.next(ctx, tx)
			if err != nil {
				return err
			}
			*id = n
			*swaps = append(*swaps, swap[R]{After: new(t.row(*v))})
		case !known:
			return fmt.Errorf("%w: %d", t.missing, *id)
		case was != *v:
			*swaps = append(*swaps, swap[R]{new(t.row(was)), new(t.row(*v))})
		}
		delete(old, *id)
	}
	for i := range before {
		if _, gone := old[*t.id(&before[i])]; gone {
			*swaps = append(*swaps, swap[R]{Before: new(t.row(before[i]))})
		}
	}
	return nil
}

// check says why a value cannot be kept in the study as it is.
func (t *table[T, R]) check(ctx context.Context, tx *sql.Tx, v *T) error {
	if err := t.valid(v); err != nil || t.fits == nil {
		return err
	}
	return t.fits(ctx, tx, v)
}

// number gives IDs to values without one, and returns the highest.
func (t *table[T, R]) number(values []T) (last int64) {
	for i := range values {
		last = max(last, *t.id(&values[i]))
	}
	for i := range values {
		if id := t.id(&values[i]); *id == 0 {
			last++
			*id = last
		}
	}
	return last
}
