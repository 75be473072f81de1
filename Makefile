# Longgrain. "make run" is all it takes to try it, "make test" to prove it.

GO      ?= go
BIN     := bin/longgrain
WEB     := web
SOURCES := $(shell git ls-files 'web/src/*' 'web/*.json' 'web/*.ts' 'web/index.html' 2>/dev/null)
export CGO_ENABLED ?= 0

.DEFAULT_GOAL := help
.PHONY: help run web build check test bench clean

help: ## list what can be made
	@grep -E '^[a-z]+:.*## ' $(MAKEFILE_LIST) | sed 's/:.*## /\t/' | expand -t 12

run: build ## build everything, start the workbench on this machine and print its address
	./$(BIN) serve

web: $(WEB)/dist/index.html ## build the front end

$(WEB)/node_modules/.package-lock.json: $(WEB)/package-lock.json
	cd $(WEB) && npm ci --no-audit --no-fund --loglevel=error
	@touch $@

$(WEB)/dist/index.html: $(WEB)/node_modules/.package-lock.json $(SOURCES)
	cd $(WEB) && npm run --silent build

build: web ## build the program with its front end
	$(GO) build -trimpath -o $(BIN) ./cmd/longgrain

check: ## the fast loop: format, vet, lint, short tests
	@test -z "$$(gofmt -l . | tee /dev/stderr)" || (echo "run gofmt -w on these files" && false)
	$(GO) vet ./...
	$(GO) test -short ./...

test: ## every test, in Go, TypeScript and a real browser; installs what it needs if it may
	sh tools/need.sh chromium pdftoppm qpdf ezdxf gmsh ccx
	@test -z "$$(gofmt -l . | tee /dev/stderr)"
	$(GO) vet ./...
	$(GO) tool -modfile=tools/go.mod staticcheck ./...
	GOOS=js GOARCH=wasm $(GO) build ./internal/plan ./internal/book/... ./internal/paper/...
	$(MAKE) build
	cd $(WEB) && npm run --silent check && npm test --silent
	$(GO) test ./...
	sh tools/browser.sh

bench: ## benchmarks of the whole plan and the solvers
	$(GO) test -run '^$$' -bench . -benchmem ./internal/plan ./internal/check/structure ./internal/design/joint ./internal/solve/...

clean: ## take away what was built
	rm -rf bin out $(WEB)/node_modules
	find $(WEB)/dist -mindepth 1 ! -name placeholder.html -delete
