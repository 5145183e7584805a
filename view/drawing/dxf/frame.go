package dxf

import "risewright/view/drawing"

// Handles of what every file has, each once. What version AC1015 asks for is
// from memory, set beside a file that ezdxf wrote, and audited by ezdxf.
const (
	vportTable = iota + 1
	ltypeTable
	layerTable
	styleTable
	viewTable
	ucsTable
	appidTable
	dimstyleTable
	blockTable
	modelSpace
	paperSpace
	modelBlock
	modelEnd
	paperBlock
	paperEnd
	byBlock
	byLayer
	continuous
	layerZero
	firstLayer
	firstStyle = firstLayer + len(layers)
	standard   = firstStyle + len(styles)
	appid      = standard + 1
	dimstyle   = appid + 1
	viewport   = dimstyle + 1
	rootDict   = viewport + 1
	groupDict  = rootDict + 1
	layoutDict = groupDict + 1
	modelPlan  = layoutDict + 1
	paperPlan  = modelPlan + 1
	// Linetypes are numbered from firstDash, entities from firstFree. A page
	// with more patterns of dashes than lie between gets unbroken lines.
	firstDash = 0x100
	firstFree = 0x1000
)

// header writes the variables of the file. $INSUNITS 4 is millimetres and
// $MEASUREMENT 1 metric (from memory; ezdxf reads them so).
func (f *file) header(p *drawing.Page, seed int) {
	f.section("HEADER")
	f.pair(9, "$ACADVER")
	f.pair(1, "AC1015")
	f.pair(9, "$DWGCODEPAGE")
	f.pair(3, "ANSI_1252")
	f.pair(9, "$INSBASE")
	f.point(10, 0, 0)
	f.number(30, 0)
	f.pair(9, "$EXTMIN")
	f.point(10, 0, 0)
	f.number(30, 0)
	f.pair(9, "$EXTMAX")
	f.point(10, p.Width, p.Height)
	f.number(30, 0)
	f.pair(9, "$LIMMIN")
	f.point(10, 0, 0)
	f.pair(9, "$LIMMAX")
	f.point(10, p.Width, p.Height)
	f.pair(9, "$LTSCALE")
	f.number(40, 1)
	f.pair(9, "$LUNITS")
	f.count(70, 2) // decimal
	f.pair(9, "$LUPREC")
	f.count(70, 3)
	f.pair(9, "$HANDSEED")
	f.handle(5, seed)
	f.pair(9, "$MEASUREMENT")
	f.count(70, 1)
	f.pair(9, "$INSUNITS")
	f.count(70, 4)
	f.pair(0, "ENDSEC")
	f.section("CLASSES")
	f.pair(0, "ENDSEC")
}

func (f *file) table(name string, handle, rows int) {
	f.pair(0, "TABLE")
	f.pair(2, name)
	f.handle(5, handle)
	f.handle(330, 0)
	f.pair(100, "AcDbSymbolTable")
	f.count(70, rows)
}

// row begins a row of a table.
func (f *file) row(kind, class string, handle, table int, name string) {
	f.pair(0, kind)
	code := 5
	if kind == "DIMSTYLE" {
		code = 105
	}
	f.handle(code, handle)
	f.handle(330, table)
	f.pair(100, "AcDbSymbolTableRecord")
	f.pair(100, class)
	f.pair(2, name)
}

func (f *file) tables(dashes [][]float64) {
	f.section("TABLES")

	f.table("VPORT", vportTable, 1)
	f.row("VPORT", "AcDbViewportTableRecord", viewport, vportTable, "*ACTIVE")
	f.count(70, 0)
	f.pair(0, "ENDTAB")

	f.table("LTYPE", ltypeTable, 3+len(dashes))
	f.linetype(byBlock, "BYBLOCK", "", nil)
	f.linetype(byLayer, "BYLAYER", "", nil)
	f.linetype(continuous, "CONTINUOUS", "Solid line", nil)
	for n, d := range dashes {
		f.linetype(firstDash+n, dashName(n), "dashes in millimetres", d)
	}
	f.pair(0, "ENDTAB")

	f.table("LAYER", layerTable, 1+len(layers))
	f.layer(layerZero, "0", 7)
	for i, l := range layers {
		f.layer(firstLayer+i, string(l.name), l.colour)
	}
	f.pair(0, "ENDTAB")

	f.table("STYLE", styleTable, 1+len(styles))
	f.style(standard, "STANDARD", "txt")
	for i, s := range styles {
		f.style(firstStyle+i, s.name, s.font)
	}
	f.pair(0, "ENDTAB")

	f.table("VIEW", viewTable, 0)
	f.pair(0, "ENDTAB")
	f.table("UCS", ucsTable, 0)
	f.pair(0, "ENDTAB")

	f.table("APPID", appidTable, 1)
	f.row("APPID", "AcDbRegAppTableRecord", appid, appidTable, "ACAD")
	f.count(70, 0)
	f.pair(0, "ENDTAB")

	f.table("DIMSTYLE", dimstyleTable, 1)
	f.pair(100, "AcDbDimStyleTable")
	f.row("DIMSTYLE", "AcDbDimStyleTableRecord", dimstyle, dimstyleTable, "STANDARD")
	f.count(70, 0)
	f.pair(0, "ENDTAB")

	f.table("BLOCK_RECORD", blockTable, 2)
	f.row("BLOCK_RECORD", "AcDbBlockTableRecord", modelSpace, blockTable, "*MODEL_SPACE")
	f.handle(340, modelPlan)
	f.row("BLOCK_RECORD", "AcDbBlockTableRecord", paperSpace, blockTable, "*PAPER_SPACE")
	f.handle(340, paperPlan)
	f.pair(0, "ENDTAB")
	f.pair(0, "ENDSEC")
}

func (f *file) linetype(handle int, name, words string, dash []float64) {
	f.row("LTYPE", "AcDbLinetypeTableRecord", handle, ltypeTable, name)
	f.count(70, 0)
	f.pair(3, words)
	f.count(72, 65)
	f.count(73, len(dash))
	sum := 0.0
	for _, d := range dash {
		sum += d
	}
	f.number(40, sum)
	for i, d := range dash {
		if i%2 == 1 {
			d = -d // a gap
		}
		f.number(49, d)
		f.count(74, 0)
	}
}

func (f *file) layer(handle int, name string, colour int) {
	f.row("LAYER", "AcDbLayerTableRecord", handle, layerTable, name)
	f.count(70, 0)
	f.count(62, colour)
	f.pair(6, "CONTINUOUS")
}

func (f *file) style(handle int, name, font string) {
	f.row("STYLE", "AcDbTextStyleTableRecord", handle, styleTable, name)
	f.count(70, 0)
	f.number(40, 0)
	f.number(41, 1)
	f.number(50, 0)
	f.count(71, 0)
	f.number(42, 2.5)
	f.pair(3, font)
	f.pair(4, "")
}

func (f *file) blocks() {
	f.section("BLOCKS")
	f.block(modelBlock, modelEnd, modelSpace, "*MODEL_SPACE", false)
	f.block(paperBlock, paperEnd, paperSpace, "*PAPER_SPACE", true)
	f.pair(0, "ENDSEC")
}

func (f *file) block(begin, end, owner int, name string, paper bool) {
	entity := func(kind string, handle int, class string) {
		f.pair(0, kind)
		f.handle(5, handle)
		f.handle(330, owner)
		f.pair(100, "AcDbEntity")
		if paper {
			f.count(67, 1)
		}
		f.pair(8, "0")
		f.pair(100, class)
	}
	entity("BLOCK", begin, "AcDbBlockBegin")
	f.pair(2, name)
	f.count(70, 0)
	f.point(10, 0, 0)
	f.number(30, 0)
	f.pair(3, name)
	f.pair(1, "")
	entity("ENDBLK", end, "AcDbBlockEnd")
}

func (f *file) objects() {
	dictionary := func(handle, owner int, rows ...any) {
		f.pair(0, "DICTIONARY")
		f.handle(5, handle)
		f.handle(330, owner)
		f.pair(100, "AcDbDictionary")
		f.count(281, 1)
		for i := 0; i < len(rows); i += 2 {
			f.pair(3, rows[i].(string))
			f.handle(350, rows[i+1].(int))
		}
	}
	f.section("OBJECTS")
	dictionary(rootDict, 0, "ACAD_GROUP", groupDict, "ACAD_LAYOUT", layoutDict)
	dictionary(groupDict, rootDict)
	dictionary(layoutDict, rootDict, "Model", modelPlan, "Layout1", paperPlan)
	f.layout(modelPlan, modelSpace, "Model", 0, 1024)
	f.layout(paperPlan, paperSpace, "Layout1", 1, 0)
	f.pair(0, "ENDSEC")
}

// layout writes how a space is set out on paper; flags of 1024 say that it is
// model space.
func (f *file) layout(handle, space int, name string, order, flags int) {
	f.pair(0, "LAYOUT")
	f.handle(5, handle)
	f.handle(330, layoutDict)
	f.pair(100, "AcDbPlotSettings")
	f.count(70, flags)
	f.pair(100, "AcDbLayout")
	f.pair(1, name)
	f.count(70, 1)
	f.count(71, order)
	f.handle(330, space)
}
