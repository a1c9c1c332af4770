package vocabulary

import (
	"regexp"
	"strconv"
	"strings"
)

// volumes finds a volume in a name: "1.5 L", "500ml", "1,5 Liter". A key has no point: "1_5_litre" is read where what follows
// is a usual part of a litre, as "2_1l" may be two of one litre.
var volumes = regexp.MustCompile(`(?i)(?:^|[^\pL\pN.,])(\d{1,4}(?:[.,]\d{1,3}|_(?:5|25|33|50|75))?)[ _-]?(ml|cl|dl|l|litres?|liters?|litros?)(?:$|[^\pL\pN])`)

// volume is the one that a name tells, as a family writes it; "" for none, and for several.
func volume(name string) string {
	all := volumes.FindAllStringSubmatch(name[:min(len(name), longest)], 2)
	if len(all) != 1 {
		return ""
	}
	number, of := strings.NewReplacer("_", ".", ",", ".").Replace(all[0][1]), strings.ToLower(all[0][2])
	n, err := strconv.ParseFloat(number, 64)
	if err != nil || n == 0 {
		return ""
	}
	times := map[string]float64{"ml": 1, "cl": 10, "dl": 100}[of]
	if times == 0 {
		return number + " L"
	}
	return strconv.FormatFloat(n*times, 'f', -1, 64) + " ml"
}

// sizes finds the size of a cell.
var sizes = regexp.MustCompile(`(?i)(?:^|[^\pL\pN])(AAA|AA|CR2032|CR2025|CR123A|18650|21700|9V)(?:$|[^\pL\pN])`)

// cellSize is the size of a cell that a name tells, as the schema has it, or "".
func cellSize(name string) string {
	if m := sizes.FindStringSubmatch(name[:min(len(name), longest)]); m != nil {
		return strings.ToUpper(m[1])
	}
	return ""
}
