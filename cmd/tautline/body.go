package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/pose"
	"tautline/analysis/posture"
)

func bodyCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "body",
		Short: "Print what the body model holds: muscles, joints, movements, words, sources",
		Args:  noArgs,
	}
	asJSON := jsonFlag(c)
	c.RunE = func(c *cobra.Command, _ []string) error {
		m := body.Adult()
		if *asJSON {
			return printJSON(c.OutOrStdout(), map[string]any{"segments": len(m.Segments), "joints": len(m.Joints), "coordinates": len(m.Coords),
				"muscle_parts_a_side": len(m.Muscles) / 2, "movements": len(m.Movements), "stances": len(m.Stances), "tables": m.Version})
		}
		fmt.Fprintf(c.OutOrStdout(), "%d segments, %d joints with %d coordinates, %d muscle parts a side, %d movements, %d stances; tables %s\n",
			len(m.Segments), len(m.Joints), len(m.Coords), len(m.Muscles)/2, len(m.Movements), len(m.Stances), m.Version)
		fmt.Fprintln(c.OutOrStdout(), "next: tautline body muscles, joints, movements, ranges, segments, stances, words, sources, arms")
		return nil
	}
	for _, t := range bodyTables {
		c.AddCommand(bodyTable(t))
	}
	c.AddCommand(bodyArms(), bodyCheck())
	return c
}

// sheet is one printable table of the model: a header and rows of cells.
type sheet struct {
	name, short string
	columns     []string
	rows        func(m *body.Model) [][]string
}

func num(v float64, digits int) string { return strconv.FormatFloat(v, 'f', digits, 64) }

func deg(v float64) string { return num(geom.Degrees(v), 0) }

var bodyTables = []sheet{
	{"muscles", "Muscle parts with architecture, nerve, names and sources",
		[]string{"key", "name", "plain", "latin", "region", "pcsa_cm2", "fibre_mm", "pennation_deg", "nerve", "note", "source"},
		func(m *body.Model) (rows [][]string) {
			for _, mu := range m.Muscles {
				if mu.Side == body.Right {
					rows = append(rows, []string{mu.Key, mu.Name, mu.Plain, mu.Latin, mu.Region, num(mu.PCSA*1e4, 2), num(mu.Fibre*1e3, 0),
						deg(mu.Pennation), mu.Nerve, mu.Note, mu.Source})
				}
			}
			return rows
		}},
	{"attachments", "Where each muscle part begins and ends, in words, and its standard actions",
		[]string{"key", "origin", "insertion", "actions", "source"},
		func(m *body.Model) (rows [][]string) {
			for _, mu := range m.Muscles {
				if mu.Side == body.Right {
					rows = append(rows, []string{mu.Key, mu.Origin, mu.Insertion, actions(m, mu), mu.PathSource})
				}
			}
			return rows
		}},
	{"joints", "Joints and their coordinates with ranges of the geometry",
		[]string{"joint", "parent", "child", "coordinate", "lo", "hi", "unit", "source"},
		func(m *body.Model) (rows [][]string) {
			for _, co := range m.Coords {
				j := m.Joints[co.Joint]
				parent, lo, hi, unit := "ground", deg(co.Lo), deg(co.Hi), "deg"
				if j.Parent != body.Ground {
					parent = m.Segments[j.Parent].Key
				}
				if co.Slide {
					lo, hi, unit = num(co.Lo, 2), num(co.Hi, 2), "m"
				}
				rows = append(rows, []string{j.Key, parent, m.Segments[j.Child].Key, co.Key, lo, hi, unit, co.Source})
			}
			return rows
		}},
	{"movements", "Movements as people say them, and who does them",
		[]string{"key", "joint", "side", "toward", "away", "agents", "against", "lo_deg", "hi_deg", "source"},
		func(m *body.Model) (rows [][]string) {
			for _, mv := range m.Movements {
				rows = append(rows, []string{mv.Key, mv.Joint, mv.Side.String(), mv.Toward, mv.Away, mv.Agents, mv.Against, deg(mv.Lo), deg(mv.Hi), mv.Source})
			}
			return rows
		}},
	{"ranges", "Published ranges of motion, every column",
		[]string{"movement", "whose", "lo_deg", "hi_deg", "source"},
		func(m *body.Model) (rows [][]string) {
			for _, mv := range m.Movements {
				for _, r := range mv.Ranges {
					if mv.Side != body.Left {
						rows = append(rows, []string{mv.Key, r.Whose, deg(r.Lo), deg(r.Hi), r.Source})
					}
				}
			}
			return rows
		}},
	{"segments", "Segments with mass, centre of mass and length",
		[]string{"key", "name", "mass_kg", "centre_x_mm", "centre_y_mm", "centre_z_mm", "length_mm", "source"},
		func(m *body.Model) (rows [][]string) {
			for _, s := range m.Segments {
				rows = append(rows, []string{s.Key, s.Name, num(s.Mass, 3), num(s.Centre.X*1e3, 0), num(s.Centre.Y*1e3, 0), num(s.Centre.Z*1e3, 0), num(s.Length*1e3, 0), s.Source})
			}
			return rows
		}},
	{"stances", "Named stances and what they expand to",
		[]string{"key", "name", "positions", "supports", "source"},
		func(m *body.Model) (rows [][]string) {
			for _, s := range m.Stances {
				var pos, sup []string
				for _, p := range s.Positions {
					pos = append(pos, posture.Statement(m, p))
				}
				for _, x := range s.Supports {
					sup = append(sup, x.Patch+" on "+x.On)
				}
				rows = append(rows, []string{s.Key, s.Name, strings.Join(pos, "; "), strings.Join(sup, "; "), s.Source})
			}
			return rows
		}},
	{"words", "Words that postures may be written in, with what they mean",
		[]string{"phrase", "means", "kind"},
		func(m *body.Model) (rows [][]string) {
			for _, e := range posture.Vocabulary(m) {
				rows = append(rows, []string{e.Phrase, e.Canonical, string(e.Kind)})
			}
			return rows
		}},
	{"sources", "Sources of every figure, with how far each is to be trusted",
		[]string{"key", "grade", "text"},
		func(m *body.Model) (rows [][]string) {
			for _, key := range sortedKeys(m.Sources) {
				rows = append(rows, []string{key, m.Sources[key].Grade, m.Sources[key].Text})
			}
			return rows
		}},
}

func bodyTable(t sheet) *cobra.Command {
	c := &cobra.Command{Use: t.name, Short: t.short, Args: args("", "")}
	asJSON := jsonFlag(c)
	c.RunE = func(c *cobra.Command, _ []string) error {
		return printSheet(c.OutOrStdout(), t.columns, t.rows(body.Adult()), *asJSON)
	}
	return c
}

// printSheet writes a table as CSV, or as a JSON list of objects.
func printSheet(w io.Writer, columns []string, rows [][]string, asJSON bool) error {
	if !asJSON {
		cw := csv.NewWriter(w)
		if err := cw.Write(columns); err != nil {
			return err
		}
		return cw.WriteAll(rows)
	}
	list := []map[string]string{}
	for _, r := range rows {
		o := map[string]string{}
		for i, name := range columns {
			o[name] = r[i]
		}
		list = append(list, o)
	}
	return printJSON(w, list)
}

func bodyArms() *cobra.Command {
	var muscle, coordinate, words string
	var step float64
	c := &cobra.Command{
		Use:     "arms",
		Short:   "Print a muscle's length and moment arm over the range of a coordinate",
		Example: `  tautline body arms --muscle "biceps brachii, long head" --coordinate elbow_flexion`,
		Args:    args("", ""),
	}
	asJSON := jsonFlag(c)
	c.Flags().StringVarP(&muscle, "muscle", "m", "", "name or key of a muscle (right side when none is said)")
	c.Flags().StringVarP(&coordinate, "coordinate", "c", "", "key of a coordinate, as body joints prints it")
	c.Flags().StringVarP(&words, "posture", "p", "", "posture of the other joints (default: anatomical position)")
	c.Flags().Float64Var(&step, "step-deg", 10, "step in degrees")
	c.RunE = func(c *cobra.Command, _ []string) error {
		if muscle == "" || coordinate == "" {
			return wrongLine(c, "--muscle and --coordinate are needed")
		}
		if !(step >= 0.1 && step <= 90) {
			return wrongLine(c, "--step-deg is %g, expected 0.1 to 90", step)
		}
		m := body.Adult()
		id, err := findMuscle(m, muscle)
		if err != nil {
			return err
		}
		co, err := findCoordinate(m, coordinate, m.Muscles[id].Side)
		if err != nil {
			return err
		}
		if words, err = fromStdin(c, words); err != nil {
			return err
		}
		reading := posture.Read(m, words)
		tellUnknown(c, reading)
		return printSheet(c.OutOrStdout(), []string{"angle_deg", "length_mm", "moment_arm_mm", "path"}, arms(m, id, co, reading.Posture, geom.Deg(step)), *asJSON)
	}
	return c
}

// arms steps one coordinate through its range, the others as in a posture.
func arms(m *body.Model, id body.MuscleID, co body.CoordID, at body.Posture, step float64) (rows [][]string) {
	p := pose.New(m)
	q := m.Resolve(at).Coords
	lo, hi := m.Coords[co].Lo, m.Coords[co].Hi
	n := int(math.Round((hi - lo) / step))
	for i := 0; i <= n; i++ {
		q[co] = lo + (hi-lo)*float64(i)/float64(max(n, 1))
		p.Set(q)
		p.MeasureOne(id)
		rows = append(rows, []string{num(geom.Degrees(q[co]), 1), num(1e3*p.Length(id), 2), num(1e3*p.MomentArm(id, co), 2), p.Outcome(id).String()})
	}
	return rows
}

// findCoordinate finds a coordinate by key, with or without its side.
func findCoordinate(m *body.Model, text string, side body.Side) (body.CoordID, error) {
	key := strings.ReplaceAll(fold(text), " ", "_")
	for _, k := range []string{key, key + side.Suffix()} {
		if id, ok := m.Coord(k); ok {
			return id, nil
		}
	}
	var names []string
	for _, co := range m.Coords {
		names = append(names, body.Bare(co.Key))
	}
	return 0, withHint(fmt.Errorf("no coordinate is called %q; near: %s", text, joinWords(nearest(fold(text), names, 3))), "tautline body joints")
}

func bodyCheck() *cobra.Command {
	c := &cobra.Command{
		Use:   "check [FOLDER]",
		Short: "Check the tables: the built-in ones, or a changed set in a folder",
		Args:  args("", "FOLDER"),
	}
	asJSON := jsonFlag(c)
	c.RunE = func(c *cobra.Command, a []string) error { return checkTables(c, a, *asJSON) }
	return c
}
