package media

import "bytes"

// reader reads one kind of container.
type reader func(*source) (*Recording, error)

// sniff tells the container from the first bytes; the file's name is never
// looked at.
func sniff(s *source) (reader, error) {
	if s.size == 0 {
		return nil, notRecording("the file is empty")
	}
	head, err := s.peek(0, int(min(s.size, 1024)))
	if err != nil {
		return nil, err
	}
	at := func(off int, word string) bool {
		return len(head) >= off+len(word) && string(head[off:off+len(word)]) == word
	}
	switch {
	case startsWithBox(head):
		return readISO, nil
	case at(0, "\x1A\x45\xDF\xA3"):
		return readMatroska, nil
	case (at(0, "RIFF") || at(0, "RF64") || at(0, "BW64")) && at(8, "WAVE"):
		return readWAV, nil
	}
	if name := foreign(head, at); name != "" {
		return nil, notRecording("it looks like %s, which is not read here", name)
	}
	if at(0, "ID3") {
		return readMP3, nil
	}
	if _, err := nextMP3Frame(s, 0, 1, s.size, 0); err == nil {
		return readMP3, nil
	}
	return nil, notRecording("its content is not MP4, MOV, M4A, WebM, Matroska, MP3 or WAV")
}

// startsWithBox says whether the file opens with one of the boxes that MP4 and
// MOV files open with. Files older than the type box open with any of the rest.
func startsWithBox(head []byte) bool {
	if len(head) < 8 {
		return false
	}
	switch string(head[4:8]) {
	case "ftyp", "styp", "moov", "mdat", "moof", "sidx", "wide", "free", "skip", "pnot":
		return true
	}
	return false
}

// foreign names kinds of media that a person might well hand over, so that the
// refusal can say what the file is.
func foreign(head []byte, at func(int, string) bool) string {
	switch {
	case at(0, "OggS"):
		return "Ogg"
	case at(0, "fLaC"):
		return "FLAC"
	case at(0, "RIFF") && at(8, "AVI "):
		return "AVI"
	case at(0, "FLV\x01"):
		return "FLV"
	case at(0, "FORM") && (at(8, "AIFF") || at(8, "AIFC")):
		return "AIFF"
	case at(0, "\x30\x26\xB2\x75\x8E\x66\xCF\x11"):
		return "ASF (WMV, WMA)"
	case at(0, "\x00\x00\x01\xBA"):
		return "an MPEG program stream"
	case at(0, "G") && at(188, "G") && at(376, "G"):
		return "an MPEG transport stream"
	case at(0, "\x89PNG") || at(0, "\xFF\xD8\xFF") || at(0, "GIF8"):
		return "a still picture"
	case at(0, "%PDF"):
		return "a PDF"
	case at(0, "PK\x03\x04"):
		return "a ZIP archive"
	case len(head) >= 2 && head[0] == 0xFF && head[1]&0xF6 == 0xF0:
		return "bare AAC sound"
	case bytes.HasPrefix(bytes.TrimPrefix(head, []byte("\xEF\xBB\xBF")), []byte("WEBVTT")):
		return "a caption track"
	}
	return ""
}
