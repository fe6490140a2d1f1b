package archive

import "strings"

// VINCheck says what the check digit of a vehicle identification number tells.
type VINCheck string

// What it tells. Outside North America makers need not write a check digit, so that a wrong one is noted and no more.
const (
	NoVIN    VINCheck = ""
	VINGood  VINCheck = "good"
	VINWrong VINCheck = "wrong"
)

// vinWeights are those of the seventeen places, and vinValues those of the letters in the order of the alphabet (0 for
// the letters I, O and Q, which no VIN has): 49 CFR 565.15(c), tables III and IV.
var (
	vinWeights = [17]int{8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2}
	vinValues  = [26]int{1, 2, 3, 4, 5, 6, 7, 8, 0, 1, 2, 3, 4, 5, 0, 7, 0, 9, 2, 3, 4, 5, 6, 7, 8, 9}
)

// CheckVIN compares the ninth place with the check digit that the others give: the sum of value times weight modulo 11,
// X for 10. What has not seventeen letters and digits is wrong.
func CheckVIN(vin string) VINCheck {
	vin = strings.ToUpper(strings.Join(strings.Fields(vin), ""))
	if vin == "" {
		return NoVIN
	}
	if len(vin) != len(vinWeights) {
		return VINWrong
	}
	sum := 0
	for place, letter := range []byte(vin) {
		switch {
		case letter >= '0' && letter <= '9':
			sum += int(letter-'0') * vinWeights[place]
		case letter >= 'A' && letter <= 'Z' && vinValues[letter-'A'] > 0:
			sum += vinValues[letter-'A'] * vinWeights[place]
		default:
			return VINWrong
		}
	}
	if "0123456789X"[sum%11] != vin[8] {
		return VINWrong
	}
	return VINGood
}
