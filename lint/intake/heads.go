package intake

import (
	"slices"
	"strings"
	"unicode"
)

// Field is what a column holds.
type Field string

// The fields. Lb and Oz are two columns that make up one mass.
const (
	Name        Field = "name"
	Count       Field = "count"
	Mass        Field = "mass"  // of one
	Total       Field = "total" // of all of the row
	Lb          Field = "lb"
	Oz          Field = "oz"
	Pack        Field = "pack"
	Compartment Field = "compartment"
	Section     Field = "section" // what the family calls a kind of thing; kept as a comment
	Person      Field = "person"  // who carries or owns it
	Expires     Field = "expires"
	Weighed     Field = "weighed"
	Energy      Field = "energy"
	Unit        Field = "unit" // of the masses of its row
	Note        Field = "note" // kept as a comment, as is every column that is not known
	Number      Field = "number"
	Nothing     Field = "nothing" // left out
)

// Fields are those that a column may be said to hold.
var Fields = []Field{Name, Count, Mass, Total, Lb, Oz, Pack, Compartment, Section, Person, Expires, Weighed, Energy, Unit, Note, Nothing}

// heads are words over columns, in English, German, French, Spanish and Japanese; from memory, as people were seen to write them.
var heads = map[Field][]string{
	Name: {"name", "item", "items", "thing", "things", "what", "article", "description", "object", "gear", "product", "equipment", "supply", "contents",
		"gegenstand", "gegenstände", "ding", "artikel", "bezeichnung", "was", "inhalt", "ausrüstung", "sache",
		"objet", "nom", "désignation", "quoi", "contenu", "matériel",
		"artículo", "objeto", "cosa", "descripción", "contenido", "material", "qué",
		"品名", "品目", "物", "名前", "アイテム", "内容", "もの"},
	Count: {"count", "qty", "quantity", "how many", "pcs", "pieces", "number of", "units", "x",
		"anzahl", "menge", "stück", "stk", "anz", "wie viele",
		"quantité", "qté", "qte", "nb", "combien",
		"cantidad", "cant", "unidades", "uds", "cuántos",
		"数量", "個数", "数", "本数"},
	Mass: {"mass", "weight", "each", "unit weight", "weight each", "single weight", "wt", "weighs", "mass of one",
		"gewicht", "masse", "einzelgewicht", "stückgewicht",
		"poids", "poids unitaire", "peso", "peso unitario", "masa",
		"重さ", "重量", "質量", "単重"},
	Total: {"total", "total weight", "total mass", "sum", "line total", "weight total", "all", "ext",
		"gesamt", "gesamtgewicht", "summe", "insgesamt",
		"poids total", "total poids", "somme", "masse totale",
		"peso total", "suma", "合計", "総重量", "計"},
	Pack: {"pack", "bag", "backpack", "rucksack", "which bag", "in pack", "in bag",
		"tasche", "sac", "sac à dos", "mochila", "bolsa", "リュック", "バッグ", "袋", "ザック"},
	Compartment: {"compartment", "pocket", "pouch", "where", "place", "location", "where in the pack", "place in pack", "storage location", "stowed", "wo", "ort", "où", "emplacement", "dónde", "lugar", "場所",
		"fach", "innentasche", "beutel", "poche", "compartiment", "pochette",
		"bolsillo", "compartimento", "ポケット", "収納場所"},
	Section: {"section", "category", "type", "group", "kind", "kategorie", "gruppe", "bereich", "art",
		"catégorie", "groupe", "rubrique", "categoría", "grupo", "tipo", "分類", "種類", "カテゴリー"},
	Person: {"person", "who", "carrier", "carried by", "carries", "owner", "for", "whose",
		"träger", "trägt", "wer", "wessen", "für", "porteur", "qui", "personne", "pour", "à qui",
		"persona", "quién", "portador", "para", "lleva", "担当", "持つ人", "人", "誰"},
	Expires: {"expires", "expiry", "expiry date", "expiration", "expiration date", "best before", "use by", "exp", "exp date", "good until", "best by",
		"ablauf", "ablaufdatum", "mhd", "haltbar bis", "mindestens haltbar bis", "verfall", "verfallsdatum",
		"expire", "péremption", "date de péremption", "dlc", "ddm",
		"caduca", "caducidad", "vencimiento", "vence", "期限", "賞味期限", "消費期限", "使用期限"},
	Weighed: {"weighed", "weighed on", "date weighed", "gewogen", "gewogen am", "pesé", "pesé le", "pesado", "pesado el", "計量日"},
	Unit:    {"unit", "uom", "einheit", "unité", "unidad", "単位"},
	Energy:  {"energy", "calories", "cal", "energie", "kalorien", "brennwert", "énergie", "energía", "calorías", "カロリー", "エネルギー"},
	Note: {"note", "notes", "remark", "remarks", "comment", "comments", "bemerkung", "bemerkungen", "notiz", "hinweis", "anmerkung",
		"remarque", "remarques", "commentaire", "nota", "notas", "observaciones", "comentario", "備考", "メモ"},
	Number: {"no", "no.", "nr", "nr.", "#", "n°", "nº", "number", "lfd. nr", "pos", "id", "番号", "№"},
}

// units are words for units of mass and energy in heads and cells.
var units = map[string]string{
	"g": "g", "gr": "g", "gram": "g", "grams": "g", "gramm": "g", "gramme": "g", "grammes": "g", "gramo": "g", "gramos": "g", "グラム": "g", "ｇ": "g",
	"kg": "kg", "kilo": "kg", "kilos": "kg", "kilogram": "kg", "kilograms": "kg", "kilogramm": "kg", "kilogrammes": "kg", "kilogramos": "kg", "キロ": "kg", "㎏": "kg", "kgs": "kg",
	"oz": "oz", "ounce": "oz", "ounces": "oz", "unzen": "oz", "onces": "oz", "onzas": "oz", "ozs": "oz",
	"lb": "lb", "lbs": "lb", "pound": "lb", "pounds": "lb", "libras": "lb", "livres": "lb",
	"mg": "mg", "kcal": "kcal", "kj": "kJ",
	"lb/oz": "lb/oz", "lbs/oz": "lb/oz", "lb oz": "lb/oz", "lbs oz": "lb/oz", "lb & oz": "lb/oz", "lb, oz": "lb/oz", "lb-oz": "lb/oz", "pounds ounces": "lb/oz",
}

// plainHead is a head in small letters, without what stands in brackets, and that.
func plainHead(text string) (head, inside string) {
	text = strings.ToLower(strings.Join(strings.Fields(text), " "))
	text = strings.NewReplacer("（", "(", "）", ")", "[", "(", "]", ")").Replace(text)
	if i := strings.IndexByte(text, '('); i >= 0 {
		rest := text[i+1:]
		if j := strings.IndexByte(rest, ')'); j >= 0 {
			inside, text = strings.TrimSpace(rest[:j]), text[:i]+" "+rest[j+1:]
		}
	}
	return strings.Trim(strings.Join(strings.Fields(text), " "), " :*?."), inside
}

// headOf says what a head means: the field, "" for none, and the unit it names.
func headOf(text string) (f Field, unit string) {
	head, inside := plainHead(text)
	unit = units[inside]
	if u, ok := units[head]; ok {
		switch u {
		case "kcal", "kJ":
			return Energy, u
		}
		return Mass, u
	}
	if f = known(head); f != "" {
		return f, unit
	}
	if f = known(inside); f != "" && f != Number && units[inside] == "" {
		if g := known(head); g == "" {
			f = ""
		}
	}
	ws := strings.FieldsFunc(head, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune("/,-_:", r) })
	var rest []string
	for _, w := range ws {
		if u, ok := units[w]; ok && unit == "" {
			unit = u
		} else if !slices.Contains([]string{"in", "en", "each", "je", "pro", "per", "the", "of", "a", "der", "de", "par", "por"}, w) || len(ws) == 1 {
			rest = append(rest, w)
		}
	}
	if f = known(strings.Join(rest, " ")); f != "" {
		return f, unit
	}
	if len(rest) > 3 || len(head) > 40 { // a sentence is no head
		return "", ""
	}
	// of several words the one that names a total, then the last that is known
	for _, w := range rest {
		if known(w) == Total {
			for _, v := range rest {
				if g := known(v); g == Mass {
					return Total, unit
				}
			}
			return "", ""
		}
	}
	if len(rest) == 2 {
		a, b := known(rest[0]), known(rest[1])
		switch {
		case a == Mass || b == Mass:
			if a == "" || b == "" || a == b { // "pack weight" is no weight of a thing
				return Mass, unit
			}
		case b == Name, b == Expires, b == Energy, b == Note:
			return b, unit
		}
	}
	return "", unit
}

func known(head string) Field {
	for _, f := range []Field{Number, Name, Count, Mass, Total, Pack, Compartment, Section, Person, Expires, Weighed, Energy, Unit, Note} {
		if slices.Contains(heads[f], head) {
			return f
		}
	}
	return ""
}

// Words that begin the name of a row which sums up others.
var sums = []string{"total", "totals", "subtotal", "sub-total", "grand total", "sum", "summe", "gesamt", "gesamtgewicht", "zwischensumme", "insgesamt", "endsumme",
	"totale", "totaux", "sous-total", "somme", "suma", "subtotales", "overall weight", "overall", "合計", "小計", "総計", "計", "総重量", "total weight", "poids total", "peso total"}

// sumsUp reports whether a text is the name of such a row.
func sumsUp(text string) bool {
	head, _ := plainHead(text)
	if slices.Contains(sums, head) {
		return true
	}
	ws := strings.Fields(head)
	if len(ws) < 2 {
		for _, s := range []string{"合計", "小計", "総計"} {
			if strings.HasPrefix(head, s) || strings.HasSuffix(head, s) {
				return true
			}
		}
		return false
	}
	return slices.Contains(sums, strings.Trim(ws[0], ":")) || slices.Contains([]string{"total", "subtotal", "gesamt", "summe", "zwischensumme"}, ws[len(ws)-1])
}

// Words in the name of a section that make it a pack or a part of one.
var (
	packWords = []string{"pack", "bag", "backpack", "rucksack", "daypack", "duffel", "tasche", "sac", "mochila", "bolsa", "リュック", "バッグ", "ザック"}
	partWords = []string{"pocket", "lid", "compartment", "pouch", "hip", "belt", "side", "top", "bottom", "main", "front", "outer", "inner",
		"fach", "hauptfach", "deckelfach", "seitentasche", "deckel", "beutel", "poche", "compartiment", "rabat", "bolsillo", "compartimento", "tapa", "ポケット"}
	// pocketWords are those that nothing but a part of a pack is called by.
	pocketWords = []string{"pocket", "lid", "compartment", "fach", "hauptfach", "deckelfach", "seitentasche", "poche", "compartiment", "bolsillo", "compartimento", "ポケット"}
	// outer parts are reached while walking.
	outerWords = []string{"lid", "strap", "pocket", "dessus", "côté", "seite", "ポケット", "hip", "belt", "hüftgurt", "deckel", "deckelfach", "seitentasche", "side", "rabat", "outer", "front", "tapa", "lateral", "latérale"}
	emptyWords = []string{"empty", "itself", "leer", "vide", "vacía", "vacío", "only", "alone", "selbst", "空"}
)

// has reports whether one of the words is in a text; a word of German ends with it, as in "Kinderrucksack".
func has(text string, words []string) bool {
	ws := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && r != 'ー' })
	for _, w := range ws {
		for _, k := range words {
			long := len([]rune(k)) > 5
			if w == k || w == k+"s" || long && strings.HasSuffix(w, k) || k[0] >= 0x80 && strings.Contains(w, k) {
				return true
			}
		}
	}
	return false
}
