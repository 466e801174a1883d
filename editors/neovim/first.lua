-- A first plan in a headless Neovim, by completion and actions alone, as a maker
-- would at the keys: from an empty file to "nothing found".
--
--   OHMSTEAD_BIN=…/ohmstead PLAN=DIR nvim --headless -u NONE -i NONE -n -S first.lua
--
-- It writes DIR/../first/plan.ohm.hcl, prints a line for each step and, at its
-- end, how many characters were typed.
local here = vim.fn.fnamemodify(debug.getinfo(1, 'S').source:sub(2), ':p:h')
local patience = 180000 -- ms: a loaded machine is no failure

local typed = 0

local function say(line)
  io.stdout:write(line, '\n')
end

if not vim.diagnostic then
  say('lacks: a Neovim of version 0.6 or later')
  vim.cmd('cquit')
end

local function lines()
  return vim.api.nvim_buf_get_lines(0, 0, -1, true)
end

local function finish(problem)
  if problem then
    local told = vim.tbl_map(function(d)
      return d.message
    end, vim.diagnostic.get(0))
    say(('FAIL: %s | %s | found: %s'):format(problem, table.concat(lines(), ' | '), table.concat(told, ' | ')))
  end
  vim.cmd(problem and 'cquit 1' or 'qall!')
end

-- The keys go to Neovim's own loop, so the steps are a coroutine that a timer wakes.
local steps

local function await(what, condition)
  local began = vim.loop.now()
  while true do
    local value = condition()
    if value then
      return value
    end
    if vim.loop.now() - began > patience then
      error('waited in vain for ' .. what, 0)
    end
    vim.defer_fn(function()
      local good, problem = coroutine.resume(steps)
      if not good then
        finish(problem)
      end
    end, 30)
    coroutine.yield()
  end
end

local function keys(text)
  vim.api.nvim_input(text)
end

--- Types text, which is counted.
local function type_in(text)
  typed = typed + #text
  keys((text:gsub('<', '<lt>')))
end

--- Opens the list of proposals and takes the one that is called so.
local function take(label)
  keys('<C-x><C-o>')
  local items = await('a list with ' .. label, function()
    local items = vim.fn.pumvisible() == 1 and vim.fn.complete_info({ 'items' }).items or {}
    for _, item in ipairs(items) do
      if item.abbr == label or item.word == label then
        return items
      end
    end
  end)
  for i, item in ipairs(items) do
    if item.abbr == label or item.word == label then
      local selected = vim.fn.complete_info({ 'selected' }).selected
      keys(('<C-n>'):rep((i - 1 - selected) % (#items + 1)))
      keys('<C-y>')
      break
    end
  end
  await('the list to close', function()
    return vim.fn.pumvisible() == 0
  end)
end

local function normal()
  keys('<Esc>')
  await('normal mode', function()
    return vim.api.nvim_get_mode().mode == 'n'
  end)
end

local function found(pattern)
  return vim.fn.search(pattern, 'nw') > 0
end

--- Takes the action whose title holds a text, where the cursor is.
local function act(part)
  local offered = {}
  vim.ui.select = function(actions, options, choose)
    for _, action in ipairs(actions) do
      local title = options.format_item(action)
      offered[#offered + 1] = title
      if title:find(part, 1, true) then
        return choose(action)
      end
    end
  end
  local before = vim.api.nvim_buf_get_changedtick(0)
  vim.lsp.buf.code_action()
  local good = pcall(await, part, function()
    return vim.api.nvim_buf_get_changedtick(0) ~= before
  end)
  if not good then
    error('the action "' .. part .. '" did nothing; offered: ' .. table.concat(offered, '; '), 0)
  end
  return table.concat(offered, '; ')
end

--- Waits for a finding, and puts the cursor on it.
local function at_finding(part)
  local d = await('the finding ' .. part, function()
    for _, d in ipairs(vim.diagnostic.get(0)) do
      if d.message:find(part, 1, true) then
        return d
      end
    end
  end)
  vim.api.nvim_win_set_cursor(0, { d.lnum + 1, d.col })
  return d.message
end

steps = coroutine.create(function()
  vim.opt.runtimepath:append(here .. '/../vim')
  vim.cmd('filetype plugin on | syntax on')
  dofile(here .. '/ohmstead.lua').setup({ cmd = { assert(vim.env.OHMSTEAD_BIN, 'OHMSTEAD_BIN is not set'), 'lsp' } })
  local dir = assert(vim.env.PLAN, 'PLAN is not set') .. '/../first'
  vim.fn.mkdir(dir, 'p')
  vim.cmd('edit ' .. vim.fn.fnameescape(dir .. '/plan.ohm.hcl'))
  vim.o.completeopt = 'menu,menuone,noselect'
  say('ok: empty: ' .. at_finding('no plan block'))

  say('ok: plan block: ' .. act('Add a plan block'))
  await('a plan block', function()
    return found('^plan "')
  end)

  vim.fn.search('title', 'w')
  keys('o')
  type_in('m')
  take('mains')
  normal()
  say('ok: mains: ' .. vim.api.nvim_get_current_line())

  vim.cmd('normal! G')
  keys('o')
  type_in('run')
  take('run')
  await('a run', function()
    return found('^run "')
  end)
  normal()
  await('the lines of the run', function()
    return #lines() > 6
  end)
  say('ok: run block: ' .. table.concat(lines(), ' | '))

  -- What the example says of the strip is put right by the list of strips.
  vim.fn.search('strip *= ', 'ew')
  keys('lC')
  await('the value to go', function()
    return vim.api.nvim_get_mode().mode == 'i' and not found('strip *= *strip')
  end)
  take('catalog.ws2812b_5v_60')
  normal()
  say('ok: finding: ' .. at_finding('no lead brings power'))
  say('ok: draft: ' .. act('Write a first supply'))
  await('nothing found', function()
    return found('^supply "') and #vim.diagnostic.get(0) == 0
  end)
  vim.cmd('silent write')
  say(('ok: nothing found: %d lines, %d characters typed'):format(#lines(), typed))
  finish()
end)

vim.defer_fn(function()
  local good, problem = coroutine.resume(steps)
  if not good then
    finish(problem)
  end
end, 10)
