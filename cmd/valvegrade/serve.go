package main

import (
	"crypto/tls"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/serve"
	"valvegrade/internal/terminal"
	"valvegrade/pkg/archive"
	"valvegrade/pkg/bay"
)

var aboutServe = `Opens a page for the work at the car: photos are graded as they arrive (dropped, taken with a phone, or written into the
folder by the scope), given to their valves, outlined by hand, overruled, compared and reported. FOLDER is one inspection or
a folder of several; without one it is the folder you are in. Everything is kept in the files of the folder, which the other
commands read: inspection.yaml, PHOTO.marks.yaml, results.json.

  valvegrade serve                         a page for this machine; its address is printed
  valvegrade serve --open june             the same for the folder june, and opens the browser
  valvegrade serve --network june          a page for phones, tablets and laptops of the shop, too
  valvegrade serve --shop shop.yaml june   the same, with the shop's name, address and logo in its reports (report --help)

On the network a device is let in that types the code which the terminal shows, or scans it; each code lets one device in.
The page comes with TLS by a certificate of your own (--certificate, --key) or one that is made at the first start: browsers
warn of that once, and its fingerprint is printed to compare. Nothing is sent anywhere else. Ctrl-C ends it.
A device stays signed in for a working day, over a restart of the program, too: the page comes back on the port that it had,
and who was let in is kept in your folder of settings (hashes only, readable for you alone). --sign-out sends all away.

Where there is an archive (valvegrade archive --help) the page searches it, shows a vehicle's last visit beside today's and the
shop's statistics, and puts an inspection into it; of a shared database it shows what the program's own login sees.

` + cautions + `

EXIT CODES:
  0  ended
  1  the program failed
  2  wrong usage; nothing was done`

func serveCommand() *cli.Command {
	return &cli.Command{
		Name:        "serve",
		Usage:       "open a page for the work at the car",
		ArgsUsage:   "[FOLDER]",
		Description: aboutServe,
		Flags: append(archiveFlags(
			&cli.BoolFlag{Name: "open", Usage: "open the page in the browser"},
			&cli.BoolFlag{Name: "network", Usage: "let other machines in that know the code"},
			&cli.BoolFlag{Name: "sign-out", Usage: "with --network, forget the devices that were let in before"},
			&cli.IntFlag{
				Name:        "port",
				Usage:       "listen on `PORT`",
				DefaultText: "one that is free; with --network the last one",
			},
			&cli.StringFlag{Name: "certificate", Usage: "with --network, take the certificate in `FILE` (PEM)"},
			&cli.StringFlag{Name: "key", Usage: "take its key in `FILE` (PEM)"},
			&cli.StringFlag{
				Name:  "locale",
				Usage: "write numbers and dates as in `TAG`, such as en-GB",
				Value: "en-US",
			},
			shopFlag(),
			logoFlag(),
		), measuringFlags()...),
		Action: runServe,
	}
}

func runServe(c *cli.Context) error {
	dir := "."
	switch c.Args().Len() {
	case 0:
	case 1:
		dir = c.Args().First()
	default:
		return hinted(misuse("serve takes one folder"), "valvegrade serve FOLDER")
	}
	measuring, err := measuringOptions(c)
	if err != nil {
		return err
	}
	if port := c.Int("port"); port < 0 || port > 65535 {
		return misuse("--port must be 1 to 65535")
	}
	shop, err := shopOf(c)
	if err != nil {
		return err
	}
	options, err := access(c)
	if err != nil {
		return err
	}
	kept, err := remembered(c, dir)
	if err != nil {
		return err
	}
	memory, err := archiveForPage(c)
	if err != nil {
		return err
	}
	if memory != nil {
		defer memory.Close()
	}
	at, err := bay.Open(dir, bay.Options{Options: measuring.Options, Workers: measuring.Workers, Archive: memory, Shop: shop})
	if err != nil {
		return hinted(misuse("cannot serve %q: %w", dir, cause(err)), "give a folder, which may be empty")
	}
	listener, err := listen(c, kept)
	if err != nil {
		return errors.Join(err, at.Close())
	}
	announce(c, listener, options, kept)
	if c.Bool("open") {
		openBrowser(c.App.ErrWriter, address(options, "127.0.0.1", listener))
	}
	err = serve.New(at, *options).Serve(c.Context, listener)
	return errors.Join(err, at.Close())
}

// archiveForPage opens the archive that options or environment name, or the one in the folder of data where there is
// one; nil where there is none.
func archiveForPage(c *cli.Context) (*archive.Archive, error) {
	options, err := archiveOptions(c)
	if err != nil {
		return nil, err
	}
	asked := c.String("archive") != "" || os.Getenv(archiveVariable) != ""
	if _, err := os.Stat(options.Location.File()); err != nil && !asked {
		return nil, nil
	}
	a, err := archive.Open(c.Context, options)
	if err != nil && !asked {
		note(c.App.ErrWriter, "the page does without the archive %s: %v", options.Location, err)
		return nil, nil
	}
	if err != nil {
		return nil, cannotOpen(options.Location, err)
	}
	return a, nil
}

// access says who is let in, and by which certificate.
func access(c *cli.Context) (*serve.Options, error) {
	options := &serve.Options{Locale: c.String("locale")}
	certificate, key := c.String("certificate"), c.String("key")
	switch {
	case (certificate == "") != (key == ""):
		return nil, misuse("--certificate and --key belong together")
	case !c.Bool("network") && certificate != "":
		return nil, misuse("--certificate is for --network")
	case !c.Bool("network"):
		return options, nil
	case certificate != "":
		given, err := tls.LoadX509KeyPair(certificate, key)
		if err != nil {
			return nil, misuse("--certificate: %w", err)
		}
		options.Certificate = &given
		return options, nil
	}
	dir, err := os.UserConfigDir()
	if err != nil {
		return nil, hinted(err, "give a certificate with --certificate and --key")
	}
	options.Certificate, err = serve.OwnCertificate(filepath.Join(dir, "valvegrade"), ownAddresses())
	return options, err
}

// remembered is what a page on the network keeps of earlier runs; nil for one on this machine only, or where there is
// no folder of settings to keep it in.
func remembered(c *cli.Context, served string) (*serve.Kept, error) {
	if !c.Bool("network") {
		if c.Bool("sign-out") {
			return nil, misuse("--sign-out is for --network")
		}
		return nil, nil
	}
	dir, err := os.UserConfigDir()
	if err != nil {
		return nil, nil
	}
	kept, err := serve.Keep(filepath.Join(dir, "valvegrade"), served)
	if err == nil && c.Bool("sign-out") {
		err = kept.Forget()
	}
	return kept, err
}

func listen(c *cli.Context, kept *serve.Kept) (net.Listener, error) {
	host := "127.0.0.1"
	if c.Bool("network") {
		host = ""
	}
	at := func(port int) (net.Listener, error) {
		return net.Listen("tcp", net.JoinHostPort(host, strconv.Itoa(port)))
	}
	if kept != nil && c.Int("port") == 0 && kept.Port() != 0 {
		if listener, err := at(kept.Port()); err == nil {
			return listener, nil
		} // somebody else has it now: another will do
	}
	listener, err := at(c.Int("port"))
	if err == nil && kept != nil {
		if err := kept.SetPort(listener.Addr().(*net.TCPAddr).Port); err != nil {
			note(c.App.ErrWriter, "after a restart the page will be elsewhere: %v", err)
		}
	}
	if err != nil {
		return nil, hinted(fmt.Errorf("cannot listen: %w", err), "choose another --port, or leave it out")
	}
	return listener, nil
}

// announce says where the page is; on the network also with which code, and after each use with the next.
func announce(c *cli.Context, listener net.Listener, options *serve.Options, kept *serve.Kept) {
	out := c.App.Writer
	if options.Certificate == nil {
		fmt.Fprintf(out, "%s\n", address(options, "127.0.0.1", listener))
		return
	}
	own := ownAddresses()
	host := "127.0.0.1"
	if len(own) > 0 {
		host = own[0].String()
	}
	fmt.Fprintf(out, "certificate (SHA-256): %s\n", serve.Fingerprint(options.Certificate))
	options.Sessions = serve.NewSessions(kept, func(code string) {
		page := address(options, host, listener)
		fmt.Fprintf(out, "\n%s\ncode: %s\n", page, code)
		showQR(out, page+"#code="+code)
	})
}

func showQR(out io.Writer, text string) {
	if !terminal.IsTerminal(out) {
		return
	}
	if drawn, err := serve.QR(text); err == nil {
		fmt.Fprint(out, drawn)
	}
}

func address(options *serve.Options, host string, listener net.Listener) string {
	scheme := "http"
	if options.Certificate != nil {
		scheme = "https"
	}
	_, port, _ := net.SplitHostPort(listener.Addr().String())
	return scheme + "://" + net.JoinHostPort(host, port) + "/"
}

// ownAddresses are those under which other machines find this one, IPv4 first.
func ownAddresses() []net.IP {
	var four, six []net.IP
	addresses, _ := net.InterfaceAddrs()
	for _, a := range addresses {
		network, ok := a.(*net.IPNet)
		switch {
		case !ok || !network.IP.IsGlobalUnicast():
		case network.IP.To4() != nil:
			four = append(four, network.IP)
		default:
			six = append(six, network.IP)
		}
	}
	return append(four, six...)
}

// openBrowser asks the desktop; where there is none the address is on the terminal.
func openBrowser(stderr io.Writer, page string) {
	browser := exec.Command("xdg-open", page)
	if err := browser.Start(); err != nil {
		note(stderr, "no browser could be opened: type the address")
		return
	}
	go func() { _ = browser.Wait() }() // else what is left of it stays as long as the page is served
}
