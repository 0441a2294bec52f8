package figure

import "image/color"

// Dress is the colours of a person: skin, hair and what is worn.
type Dress struct {
	Skin, Hair, Top, Legs, Eye color.RGBA
}

func rgb(hex uint32) color.RGBA {
	return color.RGBA{uint8(hex >> 16), uint8(hex >> 8), uint8(hex), 255}
}

var (
	// Clay is one calm tone, so that muscles stand out.
	Clay = Dress{Skin: rgb(0xf3e7d6), Hair: rgb(0xd6c4ab), Top: rgb(0xf3e7d6), Legs: rgb(0xf3e7d6), Eye: rgb(0x8d7f6a)}
	// Orchard is a plain shirt and working trousers, barefoot.
	Orchard = Dress{Skin: rgb(0xd9a57e), Hair: rgb(0x4f3a2e), Top: rgb(0xf3ead6), Legs: rgb(0x647a8f), Eye: rgb(0x33271f)}
)

// worn says what covers a segment; what is not here is skin.
var worn = map[string]func(Dress) color.RGBA{
	"thorax":   func(d Dress) color.RGBA { return d.Top },
	"abdomen":  func(d Dress) color.RGBA { return d.Top },
	"clavicle": func(d Dress) color.RGBA { return d.Top },
	"scapula":  func(d Dress) color.RGBA { return d.Top },
	"pelvis":   func(d Dress) color.RGBA { return d.Legs },
	"thigh":    func(d Dress) color.RGBA { return d.Legs },
	"shank":    func(d Dress) color.RGBA { return d.Legs },
}

// fine are the segments with small parts, which must not run into each other.
var fine = map[string]bool{"head": true, "hand": true, "foot": true, "toes": true,
	"fingers_proximal": true, "fingers_middle": true, "fingers_distal": true,
	"thumb_metacarpal": true, "thumb_proximal": true, "thumb_distal": true}

// ink is the colour of one part of the outline.
func (d Dress) ink(segment, part string) color.RGBA {
	switch {
	case part == "hair":
		return d.Hair
	case part == "eye":
		return d.Eye
	case segment == "humerus" && (part == "shoulder cap" || part == "upper arm"):
		return d.Top
	}
	if ink := worn[segment]; ink != nil {
		return ink(d)
	}
	return d.Skin
}
