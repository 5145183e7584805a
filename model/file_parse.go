package model

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"
)

// node is one value of a parsed file with the place it was read at.
type node struct {
	kind    nodeKind
	at      int    // offset of its first byte
	text    string // of a string or a number, as decoded
	truth   bool
	members []member // of an object, in file order
	items   []*node  // of an array
}

type member struct {
	name  string
	at    int // offset of the name
	value *node
}

type nodeKind int

const (
	nullNode nodeKind = iota
	boolNode
	numberNode
	textNode
	arrayNode
	objectNode
)

// words names the kind as a person would.
func (k nodeKind) words() string {
	return [...]string{"null", "true or false", "a number", "text in quotes", "a list [ ]", "a group { }"}[k]
}

// member returns the member of that name, or nil.
func (n *node) member(name string) *node {
	for _, m := range n.members {
		if m.name == name {
			return m.value
		}
	}
	return nil
}

// parser reads JSON text into nodes. The grammar is encoding/json's; the
// parser adds places, limits and the refusal of repeated names.
type parser struct {
	data   []byte
	tokens *json.Decoder
	values int
	path   []string
}

// parse returns the one value that data holds.
func parse(data []byte) (*node, *FileError) {
	p := &parser{data: data, tokens: json.NewDecoder(bytes.NewReader(data))}
	p.tokens.UseNumber()
	root, err := p.value(0)
	if err != nil {
		return nil, err
	}
	end := p.skip()
	if end < len(data) {
		return nil, p.fault(end, "there is text after the end of the job", "remove what follows the last closing brace; perhaps two files were joined")
	}
	return root, nil
}

// fault makes the error for offset at, with the pointer to where the parser is.
func (p *parser) fault(at int, problem, remedy string) *FileError {
	line, column := lineAndColumn(p.data, at)
	return &FileError{Path: pointer(p.path), Line: line, Column: column, Problem: problem, Remedy: remedy}
}

// skip returns the offset at which the next token begins.
func (p *parser) skip() int {
	at := int(p.tokens.InputOffset())
	for at < len(p.data) && strings.IndexByte(" \t\r\n,:", p.data[at]) >= 0 {
		at++
	}
	return at
}

// next returns the next token and where it begins.
func (p *parser) next() (json.Token, int, *FileError) {
	at := p.skip()
	t, err := p.tokens.Token()
	if err == nil {
		return t, at, nil
	}
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return nil, at, p.fault(len(p.data), "the file ends in the middle of the job",
			"it was cut short; use another copy of the file")
	}
	remedy := "mend the JSON there, or use another copy of the file"
	word := string(p.data[at:min(at+9, len(p.data))])
	for _, w := range []string{"NaN", "Infinity", "-Infinity", "-NaN"} {
		if strings.HasPrefix(word, w) {
			return nil, at, p.fault(at, fmt.Sprintf("%s is not a number", w), "write the number that was measured, or remove the reading")
		}
	}
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) {
		// encoding/json counts to the byte after the one it did not like
		if o := int(syntax.Offset) - 1; o > at && o < len(p.data) {
			at = o
		}
		return nil, at, p.fault(at, "this is not JSON: "+syntax.Error(), remedy)
	}
	return nil, at, p.fault(at, "this is not JSON: "+err.Error(), remedy)
}

func (p *parser) value(depth int) (*node, *FileError) {
	t, at, err := p.next()
	if err != nil {
		return nil, err
	}
	if p.values++; p.values > maxFileValues {
		return nil, p.fault(at, fmt.Sprintf("the file holds more than %d values", maxFileValues), "no stair needs so many; use another copy of the file")
	}
	switch t := t.(type) {
	case nil:
		return &node{kind: nullNode, at: at}, nil
	case bool:
		return &node{kind: boolNode, at: at, truth: t}, nil
	case json.Number:
		if len(t) > maxNumberText {
			return nil, p.fault(at, fmt.Sprintf("a number has %d characters", len(t)), fmt.Sprintf("at most %d are read", maxNumberText))
		}
		return &node{kind: numberNode, at: at, text: string(t)}, nil
	case string:
		return &node{kind: textNode, at: at, text: t}, nil
	case json.Delim:
		if depth >= maxFileDepth {
			return nil, p.fault(at, fmt.Sprintf("the file is nested more than %d levels deep", maxFileDepth), "a job has 7 levels; use another copy of the file")
		}
		if t == '[' {
			return p.array(at, depth)
		}
		return p.object(at, depth)
	}
	return nil, p.fault(at, "this is not JSON", "use another copy of the file") // cannot occur: Token returns no other type
}

func (p *parser) array(at, depth int) (*node, *FileError) {
	n := &node{kind: arrayNode, at: at}
	for p.tokens.More() {
		p.path = append(p.path, strconv.Itoa(len(n.items)))
		v, err := p.value(depth + 1)
		if err != nil {
			return nil, err
		}
		p.path = p.path[:len(p.path)-1]
		n.items = append(n.items, v)
	}
	_, _, err := p.next() // the closing bracket, or why it is missing
	return n, err
}

func (p *parser) object(at, depth int) (*node, *FileError) {
	n := &node{kind: objectNode, at: at}
	var seen map[string]bool // only for objects with more members than a job has
	for p.tokens.More() {
		t, where, err := p.next()
		if err != nil {
			return nil, err
		}
		name, ok := t.(string)
		if !ok {
			return nil, p.fault(where, "a field has no name", "write the name of each field in quotes")
		}
		p.path = append(p.path, name)
		twice := seen[name]
		if seen == nil {
			twice = n.member(name) != nil
			if len(n.members) >= 32 {
				seen = make(map[string]bool)
				for _, m := range n.members {
					seen[m.name] = true
				}
			}
		}
		if twice {
			return nil, p.fault(where, fmt.Sprintf("the field %q is there twice", name), "keep the one that is right and remove the other")
		}
		v, err := p.value(depth + 1)
		if err != nil {
			return nil, err
		}
		p.path = p.path[:len(p.path)-1]
		n.members = append(n.members, member{name: name, at: where, value: v})
		if seen != nil {
			seen[name] = true
		}
	}
	_, _, err := p.next()
	return n, err
}

// lineAndColumn returns the place of offset at, counted from 1, the column in
// characters.
func lineAndColumn(data []byte, at int) (line, column int) {
	at = min(at, len(data))
	before := data[:at]
	line = 1 + bytes.Count(before, []byte{'\n'})
	return line, 1 + utf8.RuneCount(before[bytes.LastIndexByte(before, '\n')+1:])
}

// pointer returns the JSON pointer (RFC 6901) made of parts.
func pointer(parts []string) string {
	var b strings.Builder
	escape := strings.NewReplacer("~", "~0", "/", "~1")
	for _, s := range parts {
		b.WriteByte('/')
		b.WriteString(escape.Replace(s))
	}
	return b.String()
}
