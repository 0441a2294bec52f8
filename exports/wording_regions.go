package exports

// region is a part of the body as it is spoken of, and the muscles, by the key
// of the right one without its side, that it stands for.
type region struct {
	noun    string
	muscles []string
}

// regions says which muscles go by one name in plain voice. A muscle that is in
// none, or of whose region too little is meant, goes by a name of its own.
var regions = []region{
	{"front of the hip", []string{"psoas_upper", "psoas_lower", "iliacus"}},
	{"buttock", []string{"gluteus_maximus_upper", "gluteus_maximus_middle", "gluteus_maximus_lower"}},
	{"outer hip", []string{"gluteus_medius_anterior", "gluteus_medius_middle", "gluteus_medius_posterior",
		"gluteus_minimus_anterior", "gluteus_minimus_posterior", "tensor_fasciae_latae"}},
	{"deep hip rotators", []string{"piriformis", "obturator_internus", "obturator_externus", "gemelli", "quadratus_femoris"}},
	{"front of the thigh", []string{"rectus_femoris", "vastus_lateralis", "vastus_intermedius", "vastus_medialis"}},
	{"inner thigh", []string{"pectineus", "adductor_longus", "adductor_brevis", "adductor_magnus_anterior", "adductor_magnus_ischial", "gracilis"}},
	{"hamstrings", []string{"semimembranosus", "semitendinosus", "biceps_femoris_long", "biceps_femoris_short"}},
	{"calf", []string{"gastrocnemius_medial", "gastrocnemius_lateral", "soleus", "plantaris"}},
	{"deep muscles of the lower leg", []string{"tibialis_posterior", "flexor_digitorum_longus", "flexor_hallucis_longus"}},
	{"shin", []string{"tibialis_anterior", "extensor_hallucis_longus", "extensor_digitorum_longus", "fibularis_tertius"}},
	{"outer side of the lower leg", []string{"fibularis_longus", "fibularis_brevis"}},
	{"sole of the foot", []string{"flexor_digitorum_brevis", "abductor_hallucis", "hallux_short_flexors", "quadratus_plantae_lumbricals",
		"foot_interossei", "plantar_fascia"}},

	{"belly", []string{"rectus_abdominis", "external_oblique_anterior", "internal_oblique_anterior"}},
	{"side of the waist", []string{"external_oblique_lateral", "internal_oblique_lateral", "quadratus_lumborum_iliocostal", "quadratus_lumborum_iliolumbar"}},
	{"lower back", []string{"iliocostalis_lumborum_lumbar", "longissimus_thoracis_lumbar", "multifidus"}},
	{"long muscles of the back", []string{"iliocostalis_lumborum_thoracic", "longissimus_thoracis_thoracic", "spinalis_thoracis"}},
	{"front of the neck", []string{"sternocleidomastoid", "longus_colli", "longus_capitis"}},
	{"side of the neck", []string{"scalenus_anterior", "scalenus_medius", "scalenus_posterior"}},
	{"back of the neck", []string{"splenius_capitis", "splenius_cervicis", "semispinalis_capitis", "semispinalis_cervicis", "longissimus_capitis"}},
	{"small muscles under the skull", []string{"rectus_capitis_posterior", "obliquus_capitis_inferior"}},

	{"trapezius", []string{"trapezius_descending", "trapezius_transverse", "trapezius_ascending"}},
	{"rhomboids", []string{"rhomboid_minor", "rhomboid_major"}},
	{"serratus", []string{"serratus_anterior_upper", "serratus_anterior_middle", "serratus_anterior_lower"}},
	{"chest", []string{"pectoralis_major_clavicular", "pectoralis_major_sternocostal", "pectoralis_major_abdominal"}},
	{"broad muscle of the back", []string{"latissimus_thoracic", "latissimus_lumbar"}},
	{"back of the rotator cuff", []string{"infraspinatus_upper", "infraspinatus_lower", "teres_minor"}},
	{"front of the rotator cuff", []string{"subscapularis_upper", "subscapularis_lower"}},

	{"biceps", []string{"biceps_long", "biceps_short"}},
	{"triceps", []string{"triceps_long", "triceps_lateral", "triceps_medial"}},
	{"palm-down turners of the forearm", []string{"pronator_teres", "pronator_quadratus"}},
	{"palm side of the forearm", []string{"flexor_carpi_radialis", "palmaris_longus", "flexor_carpi_ulnaris"}},
	{"back of the forearm", []string{"extensor_carpi_radialis_longus", "extensor_carpi_radialis_brevis", "extensor_carpi_ulnaris"}},
	{"finger benders", []string{"flexor_digitorum_superficialis", "flexor_digitorum_profundus"}},
	{"finger straighteners", []string{"extensor_digitorum", "extensor_indicis", "extensor_digiti_minimi"}},
	{"thumb benders", []string{"flexor_pollicis_longus", "flexor_pollicis_brevis"}},
	{"thumb straighteners", []string{"extensor_pollicis_longus", "extensor_pollicis_brevis"}},
	{"small muscles of the hand", []string{"lumbricals", "interossei_dorsal", "interossei_palmar"}},
}

// alone names single muscles where the table's plain name does not stand well
// in a sentence.
var alone = map[string]string{
	"psoas_upper": "upper part of the deep hip flexor", "psoas_lower": "lower part of the deep hip flexor",
	"tensor_fasciae_latae": "front of the outer hip", "sartorius": "long strap of the thigh",
	"obturator_externus": "deep rotator under the hip joint",
	"piriformis":         "upper deep hip rotator", "obturator_internus": "inner deep hip rotator", "gemelli": "twin deep hip rotators", "quadratus_femoris": "lower deep hip rotator",
	"semimembranosus": "deep inner hamstring", "biceps_femoris_short": "short head of the outer hamstring",
	"popliteus": "muscle behind the knee", "plantaris": "thin strand of the calf",
	"tibialis_anterior": "front of the shin", "extensor_hallucis_longus": "lifter of the big toe", "extensor_digitorum_longus": "lifter of the toes",
	"fibularis_tertius": "front of the outer ankle", "fibularis_longus": "outer side of the lower leg", "fibularis_brevis": "outer side of the ankle",
	"tibialis_posterior": "deep muscle behind the shin", "flexor_digitorum_longus": "long bender of the toes", "flexor_hallucis_longus": "long bender of the big toe",
	"flexor_digitorum_brevis": "short bender of the toes", "abductor_hallucis": "inner edge of the arch", "hallux_short_flexors": "ball of the big toe",
	"quadratus_plantae_lumbricals": "deep layer of the sole", "foot_interossei": "muscles between the long bones of the foot", "plantar_fascia": "tension sheet of the sole",
	"iliotibial_tract":             "outer band of the thigh",
	"iliocostalis_lumborum_lumbar": "outer part of the lower back", "longissimus_thoracis_lumbar": "middle part of the lower back", "multifidus": "deep part of the lower back",
	"iliocostalis_lumborum_thoracic": "outer long muscle of the back", "longissimus_thoracis_thoracic": "long muscle of the back", "spinalis_thoracis": "muscle beside the upper spine",
	"quadratus_lumborum_iliocostal": "outer muscle of the loin", "quadratus_lumborum_iliolumbar": "inner muscle of the loin",
	"rectus_abdominis":          "front of the belly",
	"external_oblique_anterior": "front of the outer oblique", "external_oblique_lateral": "side of the outer oblique",
	"internal_oblique_anterior": "front of the inner oblique", "internal_oblique_lateral": "side of the inner oblique",
	"deltoid_clavicular": "front of the shoulder", "deltoid_acromial": "outer side of the shoulder", "deltoid_spinal": "back of the shoulder",
	"supraspinatus": "top of the rotator cuff", "teres_minor": "lower back of the rotator cuff",
	"infraspinatus_upper": "upper back of the rotator cuff", "infraspinatus_lower": "middle back of the rotator cuff",
	"subscapularis_upper": "upper front of the rotator cuff", "subscapularis_lower": "lower front of the rotator cuff",
	"latissimus_thoracic": "upper part of the broad back muscle", "latissimus_lumbar": "lower part of the broad back muscle",
	"coracobrachialis": "inner side of the upper arm", "brachialis": "deep bender of the elbow", "brachioradialis": "thumb side of the forearm",
	"interossei_dorsal": "back muscles between the hand bones", "interossei_palmar": "palm muscles between the hand bones",
}
