.PHONY: demo test fast check

# Runs the main job on an invented site and writes map, dig plan and record to out/.
demo:
	go run ./cmd/asfound demo

# Runs the tests, the long ones left out; nothing but Go is needed.
test:
	go test ./...

# Runs the checks that take some minutes together, on a Debian machine.
fast:
	.ci/run fast

# Every check that is run before a change is merged, on a Debian machine.
check:
	.ci/run
