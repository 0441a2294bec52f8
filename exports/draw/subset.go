package draw

import (
	"encoding/binary"
	"slices"

	"golang.org/x/image/font/sfnt"
)

// tablesOf cuts a TrueType file into its tables. The files are our own.
func tablesOf(file []byte) map[string][]byte {
	out := map[string][]byte{}
	n := int(binary.BigEndian.Uint16(file[4:]))
	for i := range n {
		entry := file[12+16*i:]
		at, long := binary.BigEndian.Uint32(entry[8:]), binary.BigEndian.Uint32(entry[12:])
		out[string(entry[:4])] = file[at : at+long]
	}
	return out
}

// keptTables are what a reader of a PDF needs of a font, in the order of the file.
var keptTables = []string{"cvt ", "fpgm", "glyf", "head", "hhea", "hmtx", "loca", "maxp", "prep"}

// subset makes a TrueType file that holds only some characters' outlines, and
// what these are put together from, under their numbers.
func subset(file []byte, ids []sfnt.GlyphIndex) []byte {
	t := tablesOf(file)
	long := binary.BigEndian.Uint16(t["head"][50:]) == 1
	place := func(id int) (from, to int) {
		if long {
			return int(binary.BigEndian.Uint32(t["loca"][4*id:])), int(binary.BigEndian.Uint32(t["loca"][4*id+4:]))
		}
		return 2 * int(binary.BigEndian.Uint16(t["loca"][2*id:])), 2 * int(binary.BigEndian.Uint16(t["loca"][2*id+2:]))
	}
	keep := map[int]bool{}
	var take func(id int)
	take = func(id int) {
		if keep[id] {
			return
		}
		keep[id] = true
		from, to := place(id)
		for _, part := range components(t["glyf"][from:to]) {
			take(part)
		}
	}
	take(0)
	for _, id := range ids {
		take(int(id))
	}
	count := int(binary.BigEndian.Uint16(t["maxp"][4:]))
	var glyf, loca []byte
	for id := range count + 1 {
		loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
		if id < count && keep[id] {
			from, to := place(id)
			glyf = append(glyf, t["glyf"][from:to]...)
			for len(glyf)%4 != 0 {
				glyf = append(glyf, 0)
			}
		}
	}
	head := slices.Clone(t["head"])
	binary.BigEndian.PutUint16(head[50:], 1) // long offsets
	binary.BigEndian.PutUint32(head[8:], 0)  // the sum of the whole follows
	t["glyf"], t["loca"], t["head"] = glyf, loca, head
	return assemble(t)
}

// components are the characters that a composite outline is put together from.
func components(g []byte) []int {
	if len(g) < 10 || int16(binary.BigEndian.Uint16(g)) >= 0 {
		return nil
	}
	const words, scale, more, xyScale, twoByTwo = 0x0001, 0x0008, 0x0020, 0x0040, 0x0080
	var out []int
	for at := 10; at+4 <= len(g); {
		flags := binary.BigEndian.Uint16(g[at:])
		out = append(out, int(binary.BigEndian.Uint16(g[at+2:])))
		at += 6
		if flags&words != 0 {
			at += 2
		}
		switch {
		case flags&scale != 0:
			at += 2
		case flags&xyScale != 0:
			at += 4
		case flags&twoByTwo != 0:
			at += 8
		}
		if flags&more == 0 {
			break
		}
	}
	return out
}

// assemble puts tables into one file with its sums.
func assemble(t map[string][]byte) []byte {
	var names []string
	for _, name := range keptTables {
		if len(t[name]) > 0 {
			names = append(names, name)
		}
	}
	n, power, log := len(names), 1, 0
	for power*2 <= n {
		power, log = power*2, log+1
	}
	out := binary.BigEndian.AppendUint32(nil, 0x00010000)
	for _, v := range []int{n, 16 * power, log, 16 * (n - power)} {
		out = binary.BigEndian.AppendUint16(out, uint16(v))
	}
	at := 12 + 16*n
	var body []byte
	whole := 0
	for _, name := range names {
		data := t[name]
		out = append(out, name...)
		out = binary.BigEndian.AppendUint32(out, sumOf(data))
		out = binary.BigEndian.AppendUint32(out, uint32(at+len(body)))
		out = binary.BigEndian.AppendUint32(out, uint32(len(data)))
		if name == "head" {
			whole = at + len(body) + 8
		}
		body = append(body, data...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
	}
	out = append(out, body...)
	const magic = 0xB1B0AFBA
	binary.BigEndian.PutUint32(out[whole:], magic-sumOf(out))
	return out
}

func sumOf(b []byte) uint32 {
	var sum uint32
	for i := 0; i < len(b); i += 4 {
		var word [4]byte
		copy(word[:], b[i:])
		sum += binary.BigEndian.Uint32(word[:])
	}
	return sum
}
