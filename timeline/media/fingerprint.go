package media

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
)

// A fingerprint is a SHA-256 over the file's length and its content: all of
// it up to wholeBelow, else sampleCount blocks spread evenly from the first
// byte to the last. So it costs the same for an hour as for a day, and does not
// notice a change of a large file that keeps its length and falls between the
// blocks; a re-encoded or re-cut recording changes throughout.
const (
	fingerprintPrefix = "rec1-" // names the recipe below; another recipe, another prefix
	wholeBelow        = 4 << 20
	sampleCount       = 32
	sampleBytes       = 64 << 10
)

// Fingerprint gives the fingerprint and the size in bytes of the file at path,
// which need not be a recording. The file is only read. Errors are *Error.
func Fingerprint(path string) (fp string, size int64, err error) {
	f, size, err := openRegular(path)
	if err != nil {
		return "", 0, err
	}
	defer f.Close()
	fp, err = FingerprintOf(f, size)
	var e *Error
	if errors.As(err, &e) {
		e.Path = path
	}
	return fp, size, err
}

// FingerprintOf gives the fingerprint of size bytes read from r.
func FingerprintOf(r io.ReaderAt, size int64) (string, error) {
	h := sha256.New()
	var length [8]byte
	binary.BigEndian.PutUint64(length[:], uint64(size))
	h.Write(length[:])
	put := func(off, n int64) error {
		got, err := io.Copy(h, io.NewSectionReader(r, off, n))
		if err == nil && got < n {
			err = truncated("", off, "the file became shorter while it was read")
		}
		var e *Error
		if err != nil && !errors.As(err, &e) {
			err = &Error{Reason: err, Offset: off}
		}
		return err
	}
	if size <= wholeBelow {
		if err := put(0, size); err != nil {
			return "", err
		}
	} else {
		for i := range int64(sampleCount) {
			if err := put(mulDiv(size-sampleBytes, i, sampleCount-1), sampleBytes); err != nil {
				return "", err
			}
		}
	}
	return fingerprintPrefix + hex.EncodeToString(h.Sum(nil)), nil
}

// State is how a file stands to what was known of it.
type State string

// The states of a file.
const (
	Same    State = "same"    // the recording that was known
	Changed State = "changed" // a file is there, with other content
	Missing State = "missing" // no file is there
)

// Compare says whether the file at path is still the one that had the
// fingerprint and size. The error is for a file that is there and could not be
// read, and the state then means nothing.
func Compare(path, fp string, size int64) (State, error) {
	now, nowSize, err := Fingerprint(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return Missing, nil
	case errors.Is(err, ErrNotRecording): // a folder or the like has taken its place
		return Changed, nil
	case err != nil:
		return "", err
	case now == fp && nowSize == size:
		return Same, nil
	}
	return Changed, nil
}
