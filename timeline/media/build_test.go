package media

import (
	"bytes"
	"encoding/binary"
	"errors"
	"math"
	"slices"
	"testing"
	"time"
)

// Builders for the smallest files that are still what they claim to be, so that
// the readers are tested where no program is installed.

func be16(v uint16) []byte { return binary.BigEndian.AppendUint16(nil, v) }
func be32(v uint32) []byte { return binary.BigEndian.AppendUint32(nil, v) }
func be64(v uint64) []byte { return binary.BigEndian.AppendUint64(nil, v) }
func le16(v uint16) []byte { return binary.LittleEndian.AppendUint16(nil, v) }
func le32(v uint32) []byte { return binary.LittleEndian.AppendUint32(nil, v) }
func le64(v uint64) []byte { return binary.LittleEndian.AppendUint64(nil, v) }

func join(parts ...[]byte) []byte { return bytes.Join(parts, nil) }

// atom is an ISO box.
func atom(kind string, parts ...[]byte) []byte {
	body := join(parts...)
	return join(be32(uint32(len(body)+8)), []byte(kind), body)
}

// fullAtom is an ISO box with a version and flags.
func fullAtom(kind string, version byte, flags uint32, parts ...[]byte) []byte {
	return atom(kind, be32(uint32(version)<<24|flags), join(parts...))
}

// run is count samples of one value.
type run struct {
	count uint32
	value int32
}

// trackSpec is a track to build.
type trackSpec struct {
	id       uint32
	handler  string
	coding   string
	off      bool // not enabled
	scale    uint32
	stts     []run
	ctts     []run
	cttsV    byte
	edits    []edit
	samples  uint32 // stsz count; 0 means the sum of stts
	chapters uint32 // a track referred to as chapters
	matrix   [9]int32
}

func (s trackSpec) build() []byte {
	table := func(kind string, version byte, runs []run) []byte {
		out := be32(uint32(len(runs)))
		for _, r := range runs {
			out = append(append(out, be32(r.count)...), be32(uint32(r.value))...)
		}
		return fullAtom(kind, version, 0, out)
	}
	flags := uint32(1)
	if s.off {
		flags = 0
	}
	matrix := s.matrix
	if matrix == ([9]int32{}) {
		matrix = [9]int32{1 << 16, 0, 0, 0, 1 << 16, 0, 0, 0, 1 << 30}
	}
	var turn []byte
	for _, v := range matrix {
		turn = append(turn, be32(uint32(v))...)
	}
	parts := [][]byte{fullAtom("tkhd", 0, flags, be32(0), be32(0), be32(s.id), be32(0), be32(0),
		make([]byte, 16), turn, be32(64<<16), be32(48<<16))}
	if s.edits != nil {
		list := be32(uint32(len(s.edits)))
		for _, e := range s.edits {
			list = append(list, join(be32(uint32(e.length)), be32(uint32(int32(e.start))), be32(1<<16))...)
		}
		parts = append(parts, atom("edts", fullAtom("elst", 0, 0, list)))
	}
	if s.chapters != 0 {
		parts = append(parts, atom("tref", atom("chap", be32(s.chapters))))
	}
	if s.samples == 0 {
		for _, r := range s.stts {
			s.samples += r.count
		}
	}
	stbl := [][]byte{
		fullAtom("stsd", 0, 0, be32(1), atom(s.coding, make([]byte, 24), be16(64), be16(48), make([]byte, 50))),
		table("stts", 0, s.stts),
		fullAtom("stsz", 0, 0, be32(1), be32(s.samples)),
	}
	if s.ctts != nil {
		stbl = append(stbl, table("ctts", s.cttsV, s.ctts))
	}
	parts = append(parts, atom("mdia",
		fullAtom("mdhd", 0, 0, be32(0), be32(0), be32(s.scale), be32(0), be32(0)),
		fullAtom("hdlr", 0, 0, be32(0), []byte(s.handler), make([]byte, 13)),
		atom("minf", atom("stbl", stbl...))))
	return atom("trak", parts...)
}

// index is a moov box with a clock of scale ticks a second.
func index(scale, duration uint32, parts ...[]byte) []byte {
	header := fullAtom("mvhd", 0, 0, be32(0), be32(0), be32(scale), be32(duration), make([]byte, 80))
	return atom("moov", append([][]byte{header}, parts...)...)
}

func ftyp(brand string) []byte { return atom("ftyp", []byte(brand), be32(0), []byte(brand)) }

// mdat is media data enough for any count that these tests claim.
func mdat() []byte { return atom("mdat", make([]byte, 400)) }

func picture(stts ...run) trackSpec {
	return trackSpec{id: 1, handler: "vide", coding: "avc1", scale: 1000, stts: stts}
}

func sound(samples uint32) trackSpec {
	return trackSpec{id: 2, handler: "soun", coding: "mp4a", scale: 48000, stts: []run{{samples, 1024}}}
}

// elem is an EBML element with a size of eight bytes or, for small content, one.
func elem(id uint32, parts ...[]byte) []byte {
	body := join(parts...)
	size := be64(1<<56 | uint64(len(body)))
	if len(body) < 127 {
		size = []byte{0x80 | byte(len(body))}
	}
	return join(elemID(id), size, body)
}

// openElem is an element of unknown size.
func openElem(id uint32, parts ...[]byte) []byte {
	return join(elemID(id), []byte{0x01, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF}, join(parts...))
}

func elemID(id uint32) []byte {
	b := be32(id)
	for b[0] == 0 {
		b = b[1:]
	}
	return b
}

func elemUint(id uint32, v uint64) []byte { return elem(id, be64(v)) }

func elemFloat(id uint32, v float64) []byte { return elem(id, be64(math.Float64bits(v))) }

func ebmlHead(docType string) []byte {
	return elem(idEBML, elem(idDocType, []byte(docType)))
}

// mkvVideo is a track entry; a spacing of 0 is left out.
func mkvVideo(number uint64, codec string, spacing uint64) []byte {
	parts := [][]byte{elemUint(idTrackNumber, number), elemUint(idTrackType, mkvPicture), elem(idCodecID, []byte(codec)),
		elem(idVideo, elemUint(idPixelWidth, 64), elemUint(idPixelHeight, 48))}
	if spacing > 0 {
		parts = append(parts, elemUint(idDefaultDuration, spacing))
	}
	return elem(idTrackEntry, parts...)
}

func mkvAudio(number uint64) []byte {
	return elem(idTrackEntry, elemUint(idTrackNumber, number), elemUint(idTrackType, mkvSound), elem(idCodecID, []byte("A_OPUS")))
}

// blockBytes is the content of a Block or SimpleBlock.
func blockBytes(track byte, at int16, flags byte, data ...byte) []byte {
	return join([]byte{0x80 | track}, be16(uint16(at)), []byte{flags}, data)
}

func simple(track byte, at int16) []byte {
	return elem(idSimpleBlock, blockBytes(track, at, 0x80, 1, 2, 3))
}

func group(track byte, at int16, duration uint64) []byte {
	return elem(idBlockGroup, elem(idBlock, blockBytes(track, at, 0, 1, 2, 3)), elemUint(idBlockDuration, duration))
}

func cluster(at uint64, blocks ...[]byte) []byte {
	return elem(idCluster, elemUint(idTimestamp, at), join(blocks...))
}

// mp3Frames is count silent frames: MPEG-1 layer III, 44.1 kHz, stereo,
// 128 kbit/s, 417 bytes each.
func mp3Frames(count int) []byte {
	frame := append([]byte{0xFF, 0xFB, 0x90, 0x00}, make([]byte, 413)...)
	return bytes.Repeat(frame, count)
}

// wavFile is a RIFF file of the given chunks.
func wavFile(chunks ...[]byte) []byte {
	body := join(chunks...)
	return join([]byte("RIFF"), le32(uint32(len(body)+4)), []byte("WAVE"), body)
}

func chunk(id string, body ...[]byte) []byte {
	b := join(body...)
	out := join([]byte(id), le32(uint32(len(b))), b)
	if len(b)%2 == 1 {
		out = append(out, 0)
	}
	return out
}

// wavFormat is a PCM format: 8000 samples a second, two bytes each.
func wavFormat() []byte {
	return chunk("fmt ", le16(wavPCM), le16(1), le32(8000), le32(16000), le16(2), le16(16))
}

// readBytes reads a file held in memory.
func readBytes(data []byte) (*Recording, error) {
	return Read(bytes.NewReader(data), int64(len(data)))
}

func mustRead(t *testing.T, data []byte) *Recording {
	t.Helper()
	rec, err := readBytes(data)
	if err != nil {
		t.Fatal(err)
	}
	return rec
}

// refused wants an *Error with the reason, and a message that holds each word.
func refused(t *testing.T, data []byte, reason error, says ...string) {
	t.Helper()
	rec, err := readBytes(data)
	var e *Error
	if !errors.As(err, &e) || !errors.Is(err, reason) {
		t.Fatalf("want %v, got %+v, %v", reason, rec, err)
	}
	for _, word := range says {
		if !bytes.Contains([]byte(err.Error()), []byte(word)) {
			t.Errorf("%q does not say %q", err, word)
		}
	}
}

// wantFrames compares frame times in milliseconds.
func wantFrames(t *testing.T, rec *Recording, ms ...int) {
	t.Helper()
	var want []time.Duration
	for _, v := range ms {
		want = append(want, time.Duration(v)*time.Millisecond)
	}
	if !slices.Equal(rec.Frames, want) {
		t.Errorf("frames at %v, want %v", rec.Frames, want)
	}
}
