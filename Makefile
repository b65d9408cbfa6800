# Baybook. `make help` lists the commands; .ci/setup does the setting up.

BIN := .cache/venv/bin

.DEFAULT_GOAL := help
.PHONY: help book test serve wheel bench fuzz mutants pin pins clean clean-all

help: ## list the commands
	@awk -F ':.*## ' '/^[a-z-]+:.*## / { printf "  make %-10s %s\n", $$1, $$2 }' Makefile

book: ## set up and build the demo book into site/
	@sh .ci/setup book
	@$(BIN)/baybook build

test: ## set up, a browser included, and run every check
	@sh .ci/setup test
	@sh .ci/check

serve: ## set up and show the demo book, built again at each change
	@sh .ci/setup book
	@$(BIN)/baybook serve

wheel: ## set up and make the wheel, with the browser's Python ready in it, in dist/
	@sh .ci/setup book
	@$(BIN)/python -m baybook.runtime.ready .cache/ready .cache/baybook
	@$(BIN)/python -m hatchling build -t wheel

bench: ## set up and measure the start of a calculator, its answers, and the build
	@sh .ci/setup test
	@$(BIN)/python -m tests.bench

fuzz: ## set up and try random inputs, sources, bench sheets and addresses (an hour)
	@sh .ci/setup test
	@$(BIN)/python -m tests.fuzz

mutants: ## set up and try the tests: 200 small changes to the sources, and who notices (an hour)
	@sh .ci/setup test
	@$(BIN)/python -m tests.mutants

pin: ## pin, with hashes, what pyproject.toml asks for and .ci/pins lacks
	@sh .ci/setup pin

pins: ## pin the newest versions that pyproject.toml allows, with hashes, in .ci/pins
	@sh .ci/setup pins

clean: ## remove what was built, but keep the Python environment
	@rm -rf site dist .hypothesis
	@if [ -d .cache ]; then find .cache -mindepth 1 -maxdepth 1 ! -name venv -exec rm -rf {} +; fi

clean-all: clean ## remove the Python environment too
	@rm -rf .cache
