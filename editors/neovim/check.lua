-- Drives the real server from a headless Neovim and says how each step went:
--
--   OHMSTEAD_BIN=…/ohmstead PLAN=DIR nvim --headless -u NONE -i NONE -n -S check.lua
--
-- DIR is a copy of editors/testdata/broken. Nothing is saved. Each step prints
-- a line "ok: …" or "FAIL: …"; the exit code is 1 when one failed. A Neovim that
-- is too old prints only "lacks: …".
local here = vim.fn.fnamemodify(debug.getinfo(1, 'S').source:sub(2), ':p:h')
local patience = 180000 -- ms: a loaded machine is no failure

local failed = false

local function say(line)
  io.stdout:write(line, '\n')
end

if not vim.diagnostic then
  say('lacks: a Neovim of version 0.6 or later')
  vim.cmd('cquit')
end

--- Runs one step; it returns what to show, or throws.
local function step(name, run)
  local good, shown = pcall(run)
  failed = failed or not good
  say(('%s: %s: %s'):format(good and 'ok' or 'FAIL', name, tostring(shown):gsub('%s*\n%s*', ' | ')))
end

--- Waits until condition gives something, and returns it.
local function await(what, condition)
  local value
  vim.wait(patience, function()
    value = condition()
    return value
  end, 20)
  return value or error('waited in vain for ' .. what, 0)
end

--- The first line, counted from 0, that holds a Lua pattern, and the column where it does.
local function find(pattern)
  for i, line in ipairs(vim.api.nvim_buf_get_lines(0, 0, -1, true)) do
    local column = line:find(pattern)
    if column then
      return i - 1, column - 1, line
    end
  end
end

local function need(pattern)
  local line, column, text = find(pattern)
  return line or error('no line has ' .. pattern, 0), column, text
end

local function go(pattern, further)
  local line, column = need(pattern)
  vim.api.nvim_win_set_cursor(0, { line + 1, column + (further or 0) })
end

local function ask(method, params)
  local answers, problem = vim.lsp.buf_request_sync(0, method, params, patience)
  local _, answer = next(answers or {})
  if not answer or answer.err or not answer.result then
    error(method .. ': ' .. tostring(problem or vim.inspect(answer)), 0)
  end
  return answer.result
end

local function here_params()
  local clients = vim.lsp.get_clients and vim.lsp.get_clients({ bufnr = 0 }) or vim.lsp.buf_get_clients(0)
  local _, client = next(clients)
  return vim.lsp.util.make_position_params(0, client.offset_encoding)
end

step('start', function()
  vim.opt.runtimepath:append(here .. '/../vim')
  vim.cmd('filetype plugin on | syntax on')
  dofile(here .. '/ohmstead.lua').setup({ cmd = { assert(vim.env.OHMSTEAD_BIN, 'OHMSTEAD_BIN is not set'), 'lsp' } })
  vim.cmd('edit ' .. vim.fn.fnameescape(assert(vim.env.PLAN, 'PLAN is not set') .. '/porch.ohm.hcl'))
  assert(vim.bo.filetype == 'ohmstead', 'file type ' .. vim.bo.filetype)
  return 'file type ohmstead, comments ' .. vim.bo.commentstring
end)

step('syntax', function()
  local line, column = need('16 AWG')
  local name = vim.fn.synIDattr(vim.fn.synID(line + 1, column + #'16 ' + 1, 1), 'name')
  assert(name == 'ohmsteadUnit', 'AWG is coloured as "' .. name .. '"')
  return name
end)

step('diagnostic', function()
  local line = need('length = 1%.2$')
  local found = await('a diagnostic at length = 1.2', function()
    return vim.diagnostic.get(0, { lnum = line })[1]
  end)
  assert(found.message:find('1.2', 1, true), found.message)
  return ('%d:%d %s'):format(found.lnum + 1, found.col + 1, found.message)
end)

step('completion', function()
  go('wire%.feed', #'wire.')
  local result = ask('textDocument/completion', here_params())
  local labels = vim.tbl_map(function(item)
    return item.label
  end, result.items or result)
  local all = table.concat(labels, ' ')
  assert(all:find('feed') and all:find('data'), 'offered: ' .. all)
  return all
end)

step('quick fix', function()
  go('length = 1%.2$', #'length = ')
  local offered = {}
  vim.ui.select = function(actions, options, choose)
    for _, action in ipairs(actions) do
      local title = options.format_item(action)
      offered[#offered + 1] = title
      if title:find('1.2 m"', 1, true) or title:find('1%.2 m$') then
        return choose(action)
      end
    end
  end
  vim.lsp.buf.code_action()
  await('the fix "1.2 m", offered: ' .. table.concat(offered, '; '), function()
    return find('length = "1%.2 m"')
  end)
  await('the diagnostic to go', function()
    return #vim.diagnostic.get(0, { lnum = need('length = "1%.2 m"'), severity = vim.diagnostic.severity.ERROR }) == 0
  end)
  return 'took one of: ' .. table.concat(offered, '; ')
end)

step('hover', function()
  local text = await('the voltage and the pixels of run.arch', function()
    go('^run "arch"', 1)
    local shown = table.concat(vim.lsp.util.convert_input_to_markdown_lines(ask('textDocument/hover', here_params()).contents), '\n')
    return shown:find('%d V') and shown:find('216') and shown
  end)
  return text
end)

step('format', function()
  if vim.lsp.buf.format then
    vim.lsp.buf.format({ timeout_ms = patience })
  else
    vim.lsp.buf.formatting_sync(nil, patience)
  end
  need('^  to     = controller%.brain%.power$')
  local _, _, line = need('^  fuse   = "1 A"$')
  return line
end)

step('rename', function()
  go('^wire "feed"', #'wire "')
  vim.lsp.buf.rename('thick')
  await('wire.thick', function()
    return find('wire%.thick')
  end)
  need('^wire "thick"')
  assert(not find('feed'), 'the old name is still there')
  local _, _, line = need('wire%.thick')
  return line
end)

step('live page', function()
  local address
  dofile(here .. '/ohmstead.lua').show(function(told)
    address = told
  end)
  return await('the address of the live page', function()
    return address and address:find('^http://127%.0%.0%.1:%d+/') and 'served on this machine'
  end)
end)

step('stop', function()
  local clients = vim.lsp.get_clients and vim.lsp.get_clients() or vim.lsp.get_active_clients()
  vim.lsp.stop_client(clients)
  await('the server to end', function()
    return #(vim.lsp.get_clients and vim.lsp.get_clients() or vim.lsp.get_active_clients()) == 0
  end)
  return 'the server ended'
end)

vim.cmd(failed and 'cquit 1' or 'qall!')
