package report

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"go.yaml.in/yaml/v4"

	"valvegrade/internal/limit"
	"valvegrade/internal/yamlform"
)

// shopForm is a shop's file as written.
type shopForm struct {
	Name    string `yaml:"name"`
	Address lines  `yaml:"address"`
	Phone   string `yaml:"phone"`
	Email   string `yaml:"email"`
	About   string `yaml:"about"`
	Logo    string `yaml:"logo"`
}

// lines are lines of text, or a list of them: people write either.
type lines []string

// UnmarshalYAML takes both.
func (l *lines) UnmarshalYAML(n *yaml.Node) error {
	if n.Kind == yaml.SequenceNode {
		var list []string
		if err := yamlform.Into(n, &list); err != nil {
			return err
		}
		*l = linesIn(strings.Join(list, "\n"))
		return nil
	}
	var text string
	if err := yamlform.Into(n, &text); err != nil {
		return err
	}
	*l = linesIn(text)
	return nil
}

// ReadShop reads a shop's facts from a YAML file with the entries name, address (one line, several or a list), phone, email,
// about and logo, all of them optional. logo is a PNG or JPEG file, relative to the folder of the file. An unknown
// entry is an error, so that a slip of the pen is noticed.
func ReadShop(path string) (Shop, error) {
	file, err := limit.ReadFile(path, limit.ShopBytes)
	var large *limit.TooLarge
	switch {
	case errors.As(err, &large), errors.Is(err, limit.ErrNoFile):
		return Shop{}, fmt.Errorf("%s: %w", path, err)
	case err != nil:
		return Shop{}, err
	}
	var f shopForm
	if _, err := yamlform.Decode(file, &f); err != nil {
		return Shop{}, fmt.Errorf("%s: %w", path, err)
	}
	shop := Shop{Name: f.Name, Address: f.Address, Phone: f.Phone, Email: f.Email, About: f.About}
	if f.Logo == "" {
		return shop, nil
	}
	if !filepath.IsAbs(f.Logo) {
		f.Logo = filepath.Join(filepath.Dir(path), filepath.FromSlash(f.Logo))
	}
	shop.Logo, err = ReadLogo(f.Logo)
	return shop, err
}

// linesIn splits a text into its lines, without blank ones and blanks around them.
func linesIn(text string) []string {
	var lines []string
	for line := range strings.Lines(text) {
		if line = strings.TrimSpace(line); line != "" {
			lines = append(lines, line)
		}
	}
	return lines
}
