package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"path/filepath"

	"foldfit/export/report"
)

// manifestName is the file that lists what a build wrote.
const manifestName = "manifest.json"

// manifestFormat names the form of the manifest.
const manifestFormat = "foldfit-build/1"

// manifest says what a build was made from and what it made.
type manifest struct {
	Format      string               `json:"format"`
	Version     string               `json:"version"`
	Design      string               `json:"design"`
	Verdict     report.Verdict       `json:"verdict"`
	Inputs      []fileHash           `json:"inputs"` // design, meshes, limits
	Postures    []string             `json:"postures"`
	NotChecked  []manifestUnchecked  `json:"not_checked"`
	Findings    []manifestEntry      `json:"findings"`
	Concessions []manifestConcession `json:"concessions"`
	Outputs     []fileHash           `json:"outputs"`
}

type fileHash struct {
	Path   string `json:"path"`
	Bytes  int    `json:"bytes"`
	SHA256 string `json:"sha256"`
}

type manifestEntry struct {
	Rule     string   `json:"rule"`
	Severity string   `json:"severity"`
	On       []string `json:"on"`
	Posture  string   `json:"posture"`
	Message  string   `json:"message"`
	Accepted bool     `json:"accepted"` // by a concession
}

type manifestUnchecked struct {
	What string   `json:"what"`
	On   []string `json:"on"`
	Why  string   `json:"why"`
}

type manifestConcession struct {
	Rule    string   `json:"rule"`
	On      []string `json:"on"`
	DownTo  *float64 `json:"down_to"`
	Because string   `json:"because"`
	By      string   `json:"by"`
}

// sum returns the SHA-256 of data in hexadecimal.
func sum(data []byte) string {
	h := sha256.Sum256(data)
	return hex.EncodeToString(h[:])
}

// hash returns the SHA-256 of an input in hexadecimal.
func (in input) hash() string {
	if in.sha != "" {
		return in.sha
	}
	return sum(in.data)
}

// writeManifest lists a build's inputs, findings and outputs.
func writeManifest(b *board, r *results, files []output) (output, error) {
	m := manifest{
		Format: manifestFormat, Version: version, Design: r.Tree.Design.Name, Verdict: r.Verdict(), Postures: r.Postures,
		NotChecked: []manifestUnchecked{}, Findings: []manifestEntry{}, Concessions: []manifestConcession{},
	}
	for _, in := range b.inputs {
		name := in.path
		if !in.named {
			name = filepath.Base(name)
		}
		m.Inputs = append(m.Inputs, fileHash{name, in.size, in.hash()})
	}
	m.addWords(r)
	for _, f := range files {
		m.Outputs = append(m.Outputs, fileHash{f.path, len(f.data), sum(f.data)})
	}
	var data bytes.Buffer
	enc := json.NewEncoder(&data)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	err := enc.Encode(m)
	return output{path: manifestName, data: data.Bytes()}, err
}

// addWords adds what the check says.
func (m *manifest) addWords(r *results) {
	for _, u := range r.Unchecked {
		m.NotChecked = append(m.NotChecked, manifestUnchecked{u.What, never(u.On), u.Why})
	}
	for _, f := range r.Findings {
		m.Findings = append(m.Findings, manifestEntry{f.Rule, f.Severity.String(), never(f.On), f.Posture, f.Message, f.Accepted != nil})
	}
	for _, c := range r.Tree.Design.Concessions {
		m.Concessions = append(m.Concessions, manifestConcession{c.Rule, never(c.On), c.DownTo, c.Because, c.By})
	}
}

// never returns a list that is never null in JSON.
func never(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}

// readManifest reads the manifest of an earlier build: the hashes of its files by path.
func readManifest(data []byte) (map[string]string, error) {
	var m manifest
	if err := json.Unmarshal(data, &m); err != nil {
		return nil, fmt.Errorf("its %s cannot be read: %w", manifestName, err)
	}
	if m.Format != manifestFormat {
		return nil, fmt.Errorf("its %s is not one of foldfit's", manifestName)
	}
	old := map[string]string{manifestName: sum(data)}
	for _, f := range m.Outputs {
		old[f.Path] = f.SHA256
	}
	return old, nil
}
