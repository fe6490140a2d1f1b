# make demo   builds the program, scores the demo photos and writes pictures and results to demo/
# make test   every check that a change must pass
# Both install what is missing first. make help lists the rest.

# A pipe fails when its first command does.
SHELL       := /bin/bash
.SHELLFLAGS := -o pipefail -c

# Linked by lld, which decides after throwing unused code away which libraries are needed: 25 instead of 265. (The same
# flags in CGO_LDFLAGS break the linking of what uses Go's net package without OpenCV, as most tests do.)
export LINK = -linkmode=external -extldflags "-fuse-ld=lld -Wl,--as-needed -Wl,--gc-sections"
# nodynamic: HEIC photos are decoded by the built-in decoder, never by one that happens to be on the machine.
export TAGS = nodynamic

VERSION    := $(shell git describe --tags --always --dirty 2>/dev/null || echo devel)
PROGRAM    := bin/valvegrade
SOURCES    := cmd internal pkg
TESTING    := go test -timeout 40m -tags $(TAGS) -ldflags '$(LINK)'
# Packages in which goroutines share something.
CONCURRENT := ./internal/cv ./internal/net ./pkg/score ./pkg/bay
STATICCHECK := honnef.co/go/tools/cmd/staticcheck@v0.8.2
FUZZTIME   ?= 5s
# Spoilt files and killed runs of make attack; make attack ATTACK="10000 200" takes a quarter of an hour.
ATTACK     ?= 300 9
# Folders for make measure, and its options.
SETS       ?= testdata/engine testdata/series testdata/singles
MEASURE    ?=

# Where make install puts things; packagers set DESTDIR, too.
PREFIX     ?= /usr/local

.PHONY: help deps deps-tests deps-package build install package try-package demo test fmt vet lint unit libs fuzz attack measure race matprofile bench cover clean

help: ## list the targets
	@awk -F ':.*## ' '/^[a-z-]+:.*## / { printf "%-12s %s\n", $$1, $$2 }' $(MAKEFILE_LIST)

deps: ## install what is missing
	@scripts/install-deps.sh

deps-tests: ## install what is missing for the tests, too
	@scripts/install-deps.sh --tests

deps-package: ## install what is missing for make package
	@scripts/install-deps.sh --package

build: deps ## build bin/valvegrade
	@go build -trimpath -tags $(TAGS) -ldflags '$(LINK) -s -w -X main.version=$(VERSION)' -o $(PROGRAM) ./cmd/valvegrade

install: ## install what make build built, its manual page and completion below PREFIX (/usr/local)
	@scripts/install.sh $(PROGRAM) $(DESTDIR)$(PREFIX)

package: deps-package build ## a Debian package of it, bin/valvegrade_VERSION_ARCHITECTURE.deb
	@scripts/package.sh $(PROGRAM)

try-package: package ## install the package on a bare Debian 12 and grade a photo there (as root, with mmdebstrap)
	@scripts/try-package.sh

demo: build ## score the demo photos, compare before and after, write demo/
	@rm -rf demo && mkdir demo
	@$(PROGRAM) score --json demo/results.json --overlay demo/overlay --masks demo/masks testdata/engine
	@for stage in before after; do \
		mkdir demo/$$stage && cp testdata/engine/*-$$stage.jpg demo/$$stage && cp testdata/engine/$$stage.yaml demo/$$stage/inspection.yaml || exit 1; done
	@echo && $(PROGRAM) compare --residue demo/residue demo/before demo/after
	@$(PROGRAM) report --out demo/report.html demo/before demo/after
	@echo && echo "report: demo/report.html, pictures: demo/overlay and demo/residue, masks: demo/masks, results: demo/results.json"
	@echo "page:   $(PROGRAM) serve --open demo"

test: deps fmt vet lint unit libs fuzz ## every check that a change must pass
	@echo "all checks passed"

fmt: ## fail when a file is not formatted
	@echo "== gofmt"
	@files=$$(gofmt -l $(SOURCES)) && if [ -n "$$files" ]; then echo "not formatted:"; echo "$$files"; exit 1; fi

vet: deps ## go vet
	@echo "== go vet"
	@go vet -tags $(TAGS) ./...

lint: deps ## staticcheck
	@echo "== staticcheck"
	@go run $(STATICCHECK) -tags $(TAGS) ./...

unit: deps-tests ## the tests
	@echo "== tests"
	@$(TESTING) ./... | { grep -v 'no test files' || true; }

libs: build ## fail when the program loads libraries that it should not
	@echo "== shared libraries"
	@scripts/check-libraries.sh $(PROGRAM)

fuzz: deps ## each fuzz target for FUZZTIME
	@echo "== fuzzing"
	@scripts/fuzz.sh $(FUZZTIME)

attack: build ## feed the program spoilt files, end runs half way
	@echo "== attack"
	@scripts/attack.sh $(ATTACK)

measure: build ## hold the program against photos with truth: make measure SETS="DIR..." (scripts/measure/README.md)
	@go run -tags $(TAGS) -ldflags '$(LINK)' ./scripts/measure $(MEASURE) $(SETS)

race: deps ## race detector where goroutines share something
	@echo "== race detector"
	@$(TESTING) -race $(CONCURRENT)

matprofile: deps ## fail when a test leaves an OpenCV matrix open
	@echo "== open matrices"
	@go test -tags $(TAGS),matprofile -ldflags '$(LINK)' ./internal/cv

bench: deps ## benchmarks
	@$(TESTING) -run '^$$' -bench . -benchmem ./...

cover: deps-tests ## share of the code that tests reach, as bin/cover.html
	@mkdir -p bin
	@$(TESTING) -coverprofile bin/cover.out ./... && go tool cover -html bin/cover.out -o bin/cover.html
	@go tool cover -func bin/cover.out | tail -1

clean: ## remove what was built
	@rm -rf bin demo
