.PHONY: demo test check

# Runs the main job on an invented site and leaves map, dig plan and record in out/.
demo:
	go run ./cmd/asfound demo

# Runs all tests; nothing but Go is needed.
test:
	go test ./...

# Everything that is run before a change is taken in, on a Debian machine.
check:
	.ci/run
