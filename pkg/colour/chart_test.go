package colour

// patch is one patch of the 24-patch colour rendition chart: CIELAB under D50 as its maker's sheets give it (before and
// after November 2014, as kept in the colour-science library's data set, BSD), and the 8-bit sRGB that follows by
// Bradford adaptation to D65.
type patch struct {
	name string
	d50  Lab
	srgb [3]uint8
}

// Cyan (18) is missing: it lies outside sRGB.
var chart = []patch{
	{"dark skin, before 2014", Lab{37.986, 13.555, 14.059}, [3]uint8{115, 81, 67}},
	{"dark skin, after 2014", Lab{37.54, 14.37, 14.92}, [3]uint8{116, 79, 65}},
	{"light skin, before 2014", Lab{65.711, 18.13, 17.81}, [3]uint8{199, 147, 129}},
	{"light skin, after 2014", Lab{64.66, 19.27, 17.5}, [3]uint8{197, 144, 127}},
	{"blue sky, before 2014", Lab{49.927, -4.88, -21.905}, [3]uint8{91, 122, 156}},
	{"blue sky, after 2014", Lab{49.32, -3.82, -22.54}, [3]uint8{91, 120, 155}},
	{"foliage, before 2014", Lab{43.139, -13.095, 21.905}, [3]uint8{90, 108, 64}},
	{"foliage, after 2014", Lab{43.46, -12.74, 22.72}, [3]uint8{91, 108, 64}},
	{"blue flower, before 2014", Lab{55.112, 8.844, -25.399}, [3]uint8{130, 128, 176}},
	{"blue flower, after 2014", Lab{54.94, 9.61, -24.79}, [3]uint8{131, 127, 175}},
	{"bluish green, before 2014", Lab{70.719, -33.397, -0.199}, [3]uint8{92, 190, 172}},
	{"bluish green, after 2014", Lab{70.48, -32.26, -0.37}, [3]uint8{95, 189, 172}},
	{"orange, before 2014", Lab{62.661, 36.067, 57.096}, [3]uint8{224, 124, 47}},
	{"orange, after 2014", Lab{62.73, 35.83, 56.5}, [3]uint8{224, 124, 48}},
	{"purplish blue, before 2014", Lab{40.02, 10.41, -45.964}, [3]uint8{68, 91, 170}},
	{"purplish blue, after 2014", Lab{39.43, 10.75, -45.17}, [3]uint8{69, 90, 167}},
	{"moderate red, before 2014", Lab{51.124, 48.239, 16.248}, [3]uint8{198, 82, 97}},
	{"moderate red, after 2014", Lab{50.57, 48.64, 16.67}, [3]uint8{197, 80, 95}},
	{"purple, before 2014", Lab{30.325, 22.976, -21.587}, [3]uint8{94, 58, 106}},
	{"purple, after 2014", Lab{30.1, 22.54, -20.87}, [3]uint8{93, 58, 104}},
	{"yellow green, before 2014", Lab{72.532, -23.709, 57.255}, [3]uint8{159, 189, 63}},
	{"yellow green, after 2014", Lab{71.77, -24.13, 58.19}, [3]uint8{156, 187, 58}},
	{"orange yellow, before 2014", Lab{71.941, 19.363, 67.857}, [3]uint8{230, 162, 39}},
	{"orange yellow, after 2014", Lab{71.51, 18.24, 67.37}, [3]uint8{227, 161, 39}},
	{"blue, before 2014", Lab{28.778, 14.179, -50.297}, [3]uint8{35, 63, 147}},
	{"blue, after 2014", Lab{28.37, 15.42, -49.8}, [3]uint8{40, 62, 145}},
	{"green, before 2014", Lab{55.261, -38.342, 31.37}, [3]uint8{67, 149, 74}},
	{"green, after 2014", Lab{54.38, -39.72, 32.27}, [3]uint8{61, 147, 70}},
	{"red, before 2014", Lab{42.101, 53.378, 28.19}, [3]uint8{180, 49, 57}},
	{"red, after 2014", Lab{42.43, 51.05, 28.62}, [3]uint8{178, 54, 57}},
	{"yellow, before 2014", Lab{81.733, 4.039, 79.819}, [3]uint8{238, 198, 20}},
	{"yellow, after 2014", Lab{81.8, 2.67, 80.41}, [3]uint8{236, 199, 15}},
	{"magenta, before 2014", Lab{51.935, 49.986, -14.574}, [3]uint8{193, 84, 151}},
	{"magenta, after 2014", Lab{50.63, 51.28, -14.12}, [3]uint8{191, 79, 146}},
	{"white 9.5, before 2014", Lab{96.539, -0.425, 1.186}, [3]uint8{245, 245, 243}},
	{"white 9.5, after 2014", Lab{95.19, -1.03, 2.93}, [3]uint8{241, 242, 235}},
	{"neutral 8, before 2014", Lab{81.257, -0.638, -0.335}, [3]uint8{200, 202, 202}},
	{"neutral 8, after 2014", Lab{81.29, -0.57, 0.44}, [3]uint8{201, 202, 201}},
	{"neutral 6.5, before 2014", Lab{66.766, -0.734, -0.504}, [3]uint8{161, 163, 163}},
	{"neutral 6.5, after 2014", Lab{66.89, -0.75, -0.06}, [3]uint8{161, 163, 163}},
	{"neutral 5, before 2014", Lab{50.867, -0.153, -0.27}, [3]uint8{121, 121, 122}},
	{"neutral 5, after 2014", Lab{50.76, -0.13, 0.14}, [3]uint8{121, 121, 121}},
	{"neutral 3.5, before 2014", Lab{35.656, -0.421, -1.231}, [3]uint8{82, 84, 86}},
	{"neutral 3.5, after 2014", Lab{35.63, -0.46, -0.48}, [3]uint8{83, 84, 85}},
	{"black 2, before 2014", Lab{20.461, -0.079, -0.973}, [3]uint8{49, 49, 51}},
	{"black 2, after 2014", Lab{20.64, 0.07, -0.46}, [3]uint8{50, 50, 50}},
}
