package enclosure

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
)

// Bounds of an XML part.
const (
	mostTag   = 1 << 16 // bytes
	mostDepth = 64      // elements within elements
)

// tagReader reads the tags of an XML text one after the other, in constant memory. Text, comments and processing
// instructions are skipped, a document type is refused.
type tagReader struct {
	in    *bufio.Reader
	tag   []byte   // the tag in hand, from its name on
	open  [][]byte // names of the elements that it lies in
	close bool     // it ends an element
	empty bool     // it ends the element that it begins
}

// next reads the next tag and returns its name, io.EOF after the last one. What it returns is good until the next call.
func (r *tagReader) next() (name []byte, err error) {
	for {
		if err := r.skipPast("<"); err != nil {
			if errors.Is(err, io.EOF) && len(r.open) > 0 {
				return nil, fmt.Errorf("it ends within <%.40s>: the file may be cut short", r.open[len(r.open)-1])
			}
			return nil, err
		}
		special, err := r.special()
		if err != nil {
			return nil, err
		}
		if !special {
			return r.element()
		}
	}
}

// special skips a comment, a block of text or an instruction.
func (r *tagReader) special() (bool, error) {
	head, _ := r.in.Peek(8)
	switch {
	case bytes.HasPrefix(head, []byte("!--")):
		return true, r.within(r.skipPast("-->"))
	case bytes.HasPrefix(head, []byte("![CDATA[")):
		return true, r.within(r.skipPast("]]>"))
	case bytes.HasPrefix(head, []byte("?")):
		return true, r.within(r.skipPast("?>"))
	case bytes.HasPrefix(head, []byte("!")):
		return true, fmt.Errorf("a document type stands in it, which is refused")
	}
	return false, nil
}

// skipPast skips everything up to the end of mark.
func (r *tagReader) skipPast(mark string) error {
	last := mark[len(mark)-1]
	var tail [4]byte
	n := copy(tail[:], "    "[:len(mark)])
	for {
		part, err := r.in.ReadSlice(last)
		if err != nil && !errors.Is(err, bufio.ErrBufferFull) {
			return err
		}
		for _, c := range part[max(0, len(part)-n):] {
			copy(tail[:], tail[1:n])
			tail[n-1] = c
		}
		if err == nil && string(tail[:n]) == mark {
			return nil
		}
	}
}

// within turns the end of the file into an error: something has begun.
func (r *tagReader) within(err error) error {
	if errors.Is(err, io.EOF) {
		return fmt.Errorf("it ends within a tag: the file may be cut short")
	}
	return err
}

// element reads a tag after its "<" and keeps the account of open elements.
func (r *tagReader) element() ([]byte, error) {
	r.tag = r.tag[:0]
	quote := byte(0)
	for {
		part, err := r.in.ReadSlice('>')
		quote = openQuote(part, quote)
		r.tag = append(r.tag, part...)
		if err != nil && !errors.Is(err, bufio.ErrBufferFull) {
			return nil, r.within(err)
		}
		if len(r.tag) > mostTag {
			return nil, fmt.Errorf("a tag of more than %d bytes", mostTag)
		}
		if err == nil && quote == 0 {
			break
		}
	}
	r.tag = r.tag[:len(r.tag)-1]
	r.close = bytes.HasPrefix(r.tag, []byte("/"))
	r.tag = bytes.TrimPrefix(r.tag, []byte("/"))
	r.empty = bytes.HasSuffix(r.tag, []byte("/"))
	r.tag = bytes.TrimSuffix(r.tag, []byte("/"))
	end := 0
	for end < len(r.tag) && !space(r.tag[end]) {
		end++
	}
	name := r.tag[:end]
	r.tag = r.tag[end:]
	return name, r.enter(name)
}

// openQuote returns the quotation mark of the value that part of a tag stops in, 0 for none; quote is that of the part
// before.
func openQuote(part []byte, quote byte) byte {
	for _, c := range part {
		switch {
		case quote == 0 && (c == '"' || c == '\''):
			quote = c
		case c == quote:
			quote = 0
		}
	}
	return quote
}

// enter keeps the list of open elements.
func (r *tagReader) enter(name []byte) error {
	depth := len(r.open)
	switch {
	case len(name) == 0:
		return fmt.Errorf("a tag without a name")
	case r.close && (depth == 0 || !bytes.Equal(r.open[depth-1], name)):
		return fmt.Errorf("</%.40s> ends what has not begun", name)
	case r.close:
		r.open = r.open[:depth-1]
	case r.empty:
	case depth >= mostDepth:
		return fmt.Errorf("more than %d elements within each other", mostDepth)
	case depth < cap(r.open):
		r.open = r.open[:depth+1]
		r.open[depth] = append(r.open[depth][:0], name...)
	default:
		r.open = append(r.open, bytes.Clone(name))
	}
	return nil
}

// attributes calls yield with each attribute of the tag in hand, its value as written.
func (r *tagReader) attributes(yield func(name, value []byte) error) error {
	rest := r.tag
	for {
		rest = bytes.TrimLeft(rest, " \t\r\n")
		if len(rest) == 0 {
			return nil
		}
		at := bytes.IndexByte(rest, '=')
		if at < 0 {
			return fmt.Errorf("an attribute without a value")
		}
		name := bytes.TrimRight(rest[:at], " \t\r\n")
		if bytes.ContainsAny(name, " \t\r\n") {
			return fmt.Errorf("an attribute without a value before %.40s", name)
		}
		rest = bytes.TrimLeft(rest[at+1:], " \t\r\n")
		if len(rest) == 0 || rest[0] != '"' && rest[0] != '\'' {
			return fmt.Errorf("the value of %.40s is not quoted", name)
		}
		end := bytes.IndexByte(rest[1:], rest[0])
		if end < 0 {
			return fmt.Errorf("the value of %.40s does not end", name)
		}
		if err := yield(name, rest[1:1+end]); err != nil {
			return err
		}
		rest = rest[2+end:]
	}
}

// newTagReader returns a reader of tags.
func newTagReader(in io.Reader) *tagReader { return &tagReader{in: bufio.NewReaderSize(in, 1<<16)} }
