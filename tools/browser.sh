#!/bin/sh
# Starts the program with a data folder of its own on a free port and runs the browser tests against it.
set -eu
data=$(mktemp -d)
log=$data/server.log
./bin/longgrain serve --data "$data" --address 127.0.0.1:0 >"$log" 2>&1 &
server=$!
trap 'kill $server 2>/dev/null || true; wait $server 2>/dev/null || true; rm -rf "$data"' EXIT
address=""
for _ in 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20; do
	address=$(sed -n 's/.*\(http:[^ ]*\).*/\1/p' "$log" | head -n 1)
	[ -n "$address" ] && break
	sleep 0.5
done
[ -n "$address" ] || { echo "the server did not start:" >&2; cat "$log" >&2; exit 1; }
cd web && LONGGRAIN_URL=$address npm run --silent e2e
