#!/bin/sh
# Sets up VS Code's own code (code-server) in DIR, to be driven by run.mjs.
#
#   setup.sh DIR
#
# Needs Node 20 with npm, a C++ compiler, make, python3 and ripgrep; Node's
# headers are looked for beside Node (NODE_HEADERS names another place). Takes
# less than a minute.
set -eu
dir=${1:?"usage: setup.sh DIR"}
mkdir -p "$dir"
cd "$dir"
headers=${NODE_HEADERS:-$(dirname "$(dirname "$(readlink -f "$(command -v node)")")")}
gyp=$(dirname "$(readlink -f "$(command -v npm)")")/../node_modules/node-gyp/bin/node-gyp.js

[ -f package.json ] || echo '{"private": true}' > package.json
npm install --silent --ignore-scripts code-server@4.100.3 playwright-core@1.65.1
vscode=$PWD/node_modules/code-server/lib/vscode
(cd "$vscode" && npm install --silent --ignore-scripts --omit=dev)

# Install scripts would fetch built modules: build them from their sources.
for module in @vscode/spdlog native-watchdog node-pty; do
  (cd "$vscode/node_modules/$module" && node "$gyp" rebuild --nodedir="$headers" > build.log 2>&1)
done
(cd node_modules/argon2 && npm_config_node_gyp=$gyp ../.bin/node-pre-gyp configure build --nodedir="$headers" > build.log 2>&1)
ln -sfn node_modules "$vscode/node_modules.asar"
mkdir -p "$vscode/node_modules/@vscode/ripgrep/bin"
ln -sf "$(command -v rg)" "$vscode/node_modules/@vscode/ripgrep/bin/rg"
node node_modules/code-server/out/node/entry.js --version | tail -1
