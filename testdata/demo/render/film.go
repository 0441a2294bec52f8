package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"

	"tautline/testdata/demo"
)

// film renders the whole recording into an MP4 file.
func film(ffmpeg string, s *stage, file string) error {
	dir, err := os.MkdirTemp("", "render")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	sound := filepath.Join(dir, "chimes.raw")
	if err := os.WriteFile(sound, chimes(s), 0o600); err != nil {
		return err
	}
	made := filepath.Join(dir, "made.mp4")
	cmd := exec.Command(ffmpeg, "-v", "error", "-nostdin", "-y",
		"-f", "rawvideo", "-pix_fmt", "rgba", "-s", fmt.Sprintf("%dx%d", width, height), "-r", fmt.Sprint(rate), "-i", "pipe:0",
		"-f", "s16le", "-ar", fmt.Sprint(soundRate), "-ac", "1", "-i", sound,
		"-map", "0:v", "-map", "1:a", "-map_metadata", "-1",
		"-c:v", "libx264", "-preset", "slow", "-tune", "animation", "-crf", "23", "-g", fmt.Sprint(2*rate),
		"-threads", "1", "-pix_fmt", "yuv420p", "-flags:v", "+bitexact",
		"-bsf:v", "filter_units=remove_types=6", // the encoder's own note about itself
		"-c:a", "aac", "-b:a", "40k", "-flags:a", "+bitexact",
		"-fflags", "+bitexact", "-movflags", "+faststart", made)
	var said bytes.Buffer
	cmd.Stderr = &said
	pipe, err := cmd.StdinPipe()
	if err != nil {
		return err
	}
	if err := cmd.Start(); err != nil {
		return err
	}
	wrote := s.play(pipe)
	if err := pipe.Close(); wrote == nil {
		wrote = err
	}
	if err := cmd.Wait(); err != nil {
		return fmt.Errorf("ffmpeg: %w\n%stry: an ffmpeg built with libx264 (ffmpeg -encoders lists it)", err, said.String())
	}
	if wrote != nil {
		return wrote
	}
	b, err := os.ReadFile(made)
	if err != nil {
		return err
	}
	return os.WriteFile(file, b, 0o644)
}

// play draws every picture, several at a time, and writes them in order.
func (s *stage) play(out io.Writer) error {
	n := int(demo.Length.Seconds() * rate)
	painters := runtime.GOMAXPROCS(0)
	done := make([]chan *image.RGBA, painters)
	stop := make(chan struct{})
	defer close(stop)
	for i := range done {
		done[i] = make(chan *image.RGBA, 2)
		go func() {
			p := s.player()
			for k := i; k < n; k += painters {
				select {
				case done[i] <- p.picture(float64(k) / rate):
				case <-stop:
					return
				}
			}
		}()
	}
	for k := range n {
		if _, err := out.Write((<-done[k%painters]).Pix); err != nil {
			return fmt.Errorf("picture %d of %d: %w", k, n, err)
		}
	}
	return nil
}

const soundRate = 24000 // samples per second

// chimes is a soft bell at each mark, and silence between: 16 bits, one channel.
func chimes(s *stage) []byte {
	n := int(demo.Length.Seconds() * soundRate)
	wave := make([]float64, n)
	for k, p := range s.phases {
		start := int(p.From.Seconds() * soundRate)
		pitch := 392 * math.Pow(2, []float64{0, 2, 4, 7, 9, 12}[k%6]/12) // five tones without half steps
		for i := start; i < min(n, start+3*soundRate/2); i++ {
			t := float64(i-start) / soundRate
			fade := min(1, t/0.012) * math.Exp(-4.2*t) * min(1, (1.5-t)/0.2)
			wave[i] += 0.16 * fade * (math.Sin(2*math.Pi*pitch*t) + 0.28*math.Sin(2*math.Pi*2.76*pitch*t)*math.Exp(-5*t))
		}
	}
	out := make([]byte, 0, 2*n)
	for _, v := range wave {
		out = binary.LittleEndian.AppendUint16(out, uint16(int16(math.Round(v*32767))))
	}
	return out
}
