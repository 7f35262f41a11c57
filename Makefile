.PHONY: demo test fast check

# Runs the main job on an invented site and leaves map, dig plan and record in out/.
demo:
	go run ./cmd/asfound demo

# Runs the tests, the long ones left out; nothing but Go is needed.
test:
	go test ./...

# Runs the checks that take some minutes together, on a Debian machine.
fast:
	.ci/run fast

# Everything that is run before a change is taken in, on a Debian machine.
check:
	.ci/run
