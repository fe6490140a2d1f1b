package archive

import (
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"
)

// Location says where an archive lies: a file of SQLite, or a PostgreSQL database. Its String never shows a password.
type Location struct {
	file string
	url  *url.URL
}

// fileName is the archive's in the user's folder of data.
const fileName = "archive.db"

// Locate reads a location: the path of a file, a URL that begins with postgres:// or postgresql://, or "" for the file
// in the user's folder of data ($XDG_DATA_HOME/valvegrade, else ~/.local/share/valvegrade). The error shows no
// password.
func Locate(text string) (Location, error) {
	if text == "" {
		folder, err := dataFolder()
		return Location{file: filepath.Join(folder, fileName)}, err
	}
	scheme, _, isURL := strings.Cut(text, "://")
	if !isURL {
		return Location{file: text}, nil
	}
	if scheme != "postgres" && scheme != "postgresql" {
		return Location{}, fmt.Errorf(
			"archive: %s:// is no database that an archive can lie in; postgres:// is",
			scheme,
		)
	}
	u, err := url.Parse(text)
	if err != nil { // it would quote the text, password and all
		return Location{}, errors.New(
			"archive: the address of the database is no URL: write special letters of a password as %XX",
		)
	}
	return Location{url: u}, nil
}

// dataFolder follows the XDG Base Directory Specification.
func dataFolder() (string, error) {
	if folder := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(folder) {
		return filepath.Join(folder, "valvegrade"), nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", fmt.Errorf("archive: %w", err)
	}
	return filepath.Join(home, ".local", "share", "valvegrade"), nil
}

// Shared reports whether it is a database on a server, which other machines may use, too.
func (l Location) Shared() bool { return l.url != nil }

// File is the path of the SQLite file, "" for a shared database.
func (l Location) File() string { return l.file }

// secret are the parameters of a URL that hold passwords.
var secret = []string{"password", "sslpassword"}

// HasPassword reports whether the URL holds one: it must not stand on a command line, which every user of the machine
// can list.
func (l Location) HasPassword() bool {
	if l.url == nil {
		return false
	}
	_, set := l.url.User.Password()
	for _, name := range secret {
		set = set || l.url.Query().Has(name)
	}
	return set
}

// String is the location for people to read, with every password replaced by xxxxx.
func (l Location) String() string {
	if l.url == nil {
		return l.file
	}
	shown := *l.url
	query := shown.Query()
	for _, name := range secret {
		if query.Has(name) {
			query.Set(name, "xxxxx")
		}
	}
	shown.RawQuery = query.Encode()
	return shown.Redacted()
}
