package store

import (
	"context"
	"database/sql"
	"fmt"
)

// add adds values as one change, all or none, and returns them with their IDs.
func add[T comparable, R any](ctx context.Context, s *Store, t *table[T, R], label string, values []T) ([]T, error) {
	added := make([]T, len(values))
	err := s.change(ctx, func(tx *sql.Tx) (string, *delta, error) {
		d := &delta{}
		for i, v := range values {
			if err := t.check(ctx, tx, &v); err != nil {
				return "", nil, err
			}
			id, err := t.next(ctx, tx)
			if err != nil {
				return "", nil, err
			}
			*t.id(&v) = id
			added[i] = v
			*t.steps(d) = append(*t.steps(d), swap[R]{After: new(t.row(v))})
		}
		return orLabel(label, d), d, nil
	})
	if err != nil {
		return nil, err
	}
	return added, nil
}

// addOne is add for a single value.
func addOne[T comparable, R any](ctx context.Context, s *Store, t *table[T, R], v T) (T, error) {
	added, err := add(ctx, s, t, "", []T{v})
	if err != nil {
		var none T
		return none, err
	}
	return added[0], nil
}

// alter reads a value, lets f change it and writes it, with no other change in
// between.
func alter[T comparable, R any](ctx context.Context, s *Store, t *table[T, R], id int64, f func(*T) error) (T, error) {
	var after, none T
	var refused error
	err := s.change(ctx, func(tx *sql.Tx) (string, *delta, error) {
		before, err := t.find(ctx, tx, id)
		if err != nil {
			return "", nil, err
		}
		after = before
		if refused = f(&after); refused != nil {
			return "", nil, refused
		}
		if *t.id(&after) != id {
			panic(fmt.Sprintf("store: an edit made %s %d into %d", t.name, id, *t.id(&after)))
		}
		if err := t.check(ctx, tx, &after); err != nil {
			return "", nil, err
		}
		d := &delta{}
		if after != before {
			*t.steps(d) = []swap[R]{{new(t.row(before)), new(t.row(after))}}
		}
		return describe(d), d, nil
	})
	if refused != nil {
		err = refused
	}
	if err != nil {
		return none, err
	}
	return after, nil
}

// remove removes a value and returns it as it was.
func remove[T comparable, R any](ctx context.Context, s *Store, t *table[T, R], id int64) (T, error) {
	var before T
	err := s.change(ctx, func(tx *sql.Tx) (_ string, _ *delta, err error) {
		if before, err = t.find(ctx, tx, id); err != nil {
			return "", nil, err
		}
		d := &delta{}
		*t.steps(d) = []swap[R]{{Before: new(t.row(before))}}
		return describe(d), d, nil
	})
	return before, err
}
