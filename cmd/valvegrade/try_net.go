package main

import (
	"bytes"
	"context"
	"image"
	"os"
	"os/exec"

	"github.com/urfave/cli/v2"

	"valvegrade/internal/limit"
	"valvegrade/internal/net"
)

// tryNet finds out whether a net can be used before the work begins. It is tried in a process of its own: OpenCV
// follows null pointers in a spoilt one, which nothing can catch.
func tryNet(c context.Context, onnx []byte) error {
	program, err := os.Executable()
	if err != nil {
		return err
	}
	ctx, stop := context.WithTimeout(c, limit.NetTime)
	defer stop()
	trial := exec.CommandContext(ctx, program, tryNetName)
	trial.Stdin = bytes.NewReader(onnx)
	return trial.Run()
}

const tryNetName = "try-net"

// tryNetCommand is what tryNet runs: the net comes from standard input and looks at a grey picture.
func tryNetCommand() *cli.Command {
	return &cli.Command{
		Name:   tryNetName,
		Hidden: true, // no one needs to call it
		Action: func(*cli.Context) error {
			onnx, err := limit.Read(os.Stdin, limit.NetBytes)
			if err != nil {
				return err
			}
			tried, err := net.New(onnx)
			if err != nil {
				return err
			}
			defer tried.Close()
			grey := image.NewNRGBA(image.Rect(0, 0, 640, 480))
			if _, err := tried.Find(grey); err != nil {
				return err
			}
			_, err = tried.Read(grey, net.Box{Right: 640, Bottom: 480})
			return err
		},
	}
}
