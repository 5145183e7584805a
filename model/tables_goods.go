package model

// Goods are what can be bought, at what price. All of it may be changed by the
// user; a currency is only a label, and no price is converted.
type Goods struct {
	Currency string
	Kerf     Length // one saw cut
	Trim     Length // lost at each end of a board beside the kerf
	Boards   []GoodsBoard
	Packs    []GoodsPack
	Practice []Practice
}

// GoodsUse says what a good is for.
type GoodsUse string

// The uses. Boards and strips are cut to length, a sheet is ripped first, the
// others come in packs.
const (
	UseTread     GoodsUse = "tread"
	UseRiser     GoodsUse = "riser"
	UseLanding   GoodsUse = "landing nosing"
	UseSkirt     GoodsUse = "skirt board"
	UseCove      GoodsUse = "cove"
	UseLightBase GoodsUse = "light base"
	UseDiffuser  GoodsUse = "diffuser"
	UseWireCover GoodsUse = "wire cover"
	UseAdhesive  GoodsUse = "adhesive"
	UseElastic   GoodsUse = "elastic adhesive"
	UseTreadPins GoodsUse = "tread pins"
	UseScrews    GoodsUse = "tread screws"
	UseRiserPins GoodsUse = "riser pins"
	UseFinish    GoodsUse = "tread finish"
	UsePaint     GoodsUse = "riser paint"
	UseElectric  GoodsUse = "lights, sensors" // no table lists them
)

// GoodsBoard is a board, a strip or a sheet as it is sold.
type GoodsBoard struct {
	ID       string
	Use      GoodsUse
	Name     string
	Units    Units // in whose yards it is common; empty: both
	Length   Length
	Width    Length // 0 where it does not matter, as for a cove
	Sheet    bool
	Price    float64
	Standing Standing
	Note     string
}

// GoodsPack is a cartridge, a tin or a box. Holds is in Unit: ml for adhesive
// and liquids, pieces for pins.
type GoodsPack struct {
	ID       string
	Use      GoodsUse
	Name     string
	Units    Units
	Holds    float64
	Unit     string
	Price    float64
	Standing Standing
	Note     string
}

// Practice is one rule of the trade with a number in it, such as how many
// spare treads are bought.
type Practice struct {
	ID       string
	Words    string
	Value    float64
	Unit     string
	Standing Standing
	Note     string
}

// Figure returns the value of the practice called id, or fallback.
func (g Goods) Figure(id string, fallback float64) float64 {
	for _, p := range g.Practice {
		if p.ID == id {
			return p.Value
		}
	}
	return fallback
}
