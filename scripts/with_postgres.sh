#!/usr/bin/env bash
# Runs a command with HALEWRIGHT_DATABASE_URL at a Postgres server of its own, on a socket in a
# folder that is removed afterwards. Postgres refuses to run as root, so root lends it to a user.
set -euo pipefail

bin=$(dirname "$(compgen -G '/usr/lib/postgresql/*/bin/initdb' | sort -V | tail -n 1)")
folder=$(mktemp -d)
run=()
if [ "$(id -u)" -eq 0 ]; then
  id postgres >/dev/null 2>&1 || useradd --system postgres
  chown postgres "$folder"
  run=(runuser -u postgres --)
fi
stop() {
  "${run[@]}" "$bin/pg_ctl" -D "$folder/data" -m immediate stop >/dev/null 2>&1 || true
  rm -rf "$folder"
}
trap stop EXIT

"${run[@]}" "$bin/initdb" -D "$folder/data" -U halewright -A trust --no-sync >/dev/null
"${run[@]}" "$bin/pg_ctl" -D "$folder/data" -w -l "$folder/log" start \
  -o "-c listen_addresses='' -c unix_socket_directories='$folder' -c fsync=off" >/dev/null
chmod 755 "$folder"
socket=$(printf '%s' "$folder" | sed 's,/,%2F,g')
export HALEWRIGHT_DATABASE_URL="postgres://halewright@$socket/postgres"
"$@"
