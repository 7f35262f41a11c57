#!/usr/bin/env bash
# Rebuilds the bundles in this folder from the versions in package.json. Only
# needed to raise a version: building the app needs none of this.
set -euo pipefail
cd "$(dirname "$0")/.."
npm install --omit-lockfile-registry-resolved --ignore-scripts --no-audit --no-fund >/dev/null
for name in ol preact idb; do
	go tool -modfile=../../.ci/tools.mod esbuild "vendor/$name.entry.ts" \
		--bundle --format=esm --target=es2022 --minify --legal-comments=none \
		--banner:js="/* $name: made by make.sh; asfound licences has the licences */" --outfile="vendor/$name.js"
	printf 'export * from "./%s.entry";\n' "$name" >"vendor/$name.d.ts"
done
go tool -modfile=../../.ci/tools.mod esbuild vendor/pdf.entry.js \
	--bundle --format=esm --target=es2022 --minify --legal-comments=none --loader:.wasm=binary \
	--banner:js="/* pdf: made by make.sh; asfound licences has the licences */" --outfile=vendor/pdf.js
for name in geotiff pmtiles; do
	go tool -modfile=../../.ci/tools.mod esbuild "vendor/$name.entry.js" \
		--bundle --format=esm --target=es2022 --minify --legal-comments=none \
		--banner:js="/* $name: made by make.sh; asfound licences has the licences */" --outfile="vendor/$name.js"
done
