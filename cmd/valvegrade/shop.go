package main

import (
	"github.com/urfave/cli/v2"

	"valvegrade/pkg/report"
)

func shopFlag() cli.Flag {
	return &cli.StringFlag{Name: "shop", Usage: "take the shop's name, address and logo from `FILE` (YAML)"}
}

func logoFlag() cli.Flag {
	return &cli.StringFlag{Name: "logo", Usage: "show the picture in `FILE` (PNG or JPEG) instead of the shop file's"}
}

// shopOf is who writes the reports, by the options shop and logo; nobody where neither is given.
func shopOf(c *cli.Context) (shop report.Shop, err error) {
	if file := c.String("shop"); file != "" {
		if shop, err = report.ReadShop(file); err != nil {
			return shop, cannotUse("--shop", err)
		}
	}
	if file := c.String("logo"); file != "" {
		if shop.Logo, err = report.ReadLogo(file); err != nil {
			return shop, cannotUse("--logo", err)
		}
	}
	return shop, nil
}
