-- Ohmstead in Neovim's own language client, from 0.7 to the current version.
--
--   dofile('CLONE/editors/neovim/ohmstead.lua').setup({ keymaps = true })
local M = {}

M.defaults = {
  cmd = { 'ohmstead', 'lsp' },
  keymaps = false, -- set the suggested keys in plans, see M.keymaps
  hints = true, -- show inlay hints, where this Neovim can
  settings = { ohmstead = vim.empty_dict() }, -- see lsp/SETTINGS.md
  capabilities = nil, -- of a completion plugin, where there is one
  on_attach = nil, -- function(client, buffer)
}

--- Keys as current versions set them by themselves, plus gd.
function M.keymaps(buffer)
  local function map(mode, key, action, what)
    vim.keymap.set(mode, key, action, { buffer = buffer, desc = what })
  end
  map('n', 'K', vim.lsp.buf.hover, 'show what is known')
  map('n', 'gd', vim.lsp.buf.definition, 'go to definition')
  map('n', 'grn', vim.lsp.buf.rename, 'rename')
  map({ 'n', 'x' }, 'gra', vim.lsp.buf.code_action, 'fix or change')
  map('n', 'grr', vim.lsp.buf.references, 'list uses')
  map('n', 'gO', vim.lsp.buf.document_symbol, 'list what is in this file')
  map('i', '<C-s>', vim.lsp.buf.signature_help, 'show what the function takes')
  map('n', 'gl', function() M.show() end, 'show the plan in the browser')
  map('n', 'g=', vim.lsp.buf.format or vim.lsp.buf.formatting, 'lay out')
end

--- Asks what to highlight at the cursor, and shows nothing: so the server knows where it is.
local function follow(buffer)
  vim.api.nvim_create_autocmd({ 'CursorMoved', 'CursorMovedI' }, {
    buffer = buffer,
    group = vim.api.nvim_create_augroup('ohmstead_follow_' .. buffer, {}),
    callback = function()
      local at = vim.api.nvim_win_get_cursor(0)
      local ask = { textDocument = { uri = vim.uri_from_bufnr(buffer) }, position = { line = at[1] - 1, character = at[2] } }
      vim.lsp.buf_request(buffer, 'textDocument/documentHighlight', ask, function() end)
    end,
  })
end

--- Shows the plan on the live page, which follows the cursor from then on: the
--- server has a browser opened, or says the address.
--- @param told function|nil is called with the address
function M.show(told)
  local ask = { command = 'ohmstead.view', arguments = { vim.uri_from_bufnr(0) } }
  follow(vim.api.nvim_get_current_buf())
  vim.lsp.buf_request(0, 'workspace/executeCommand', ask, function(problem, address)
    if problem then
      vim.notify(problem.message, vim.log.levels.ERROR)
    elseif told then
      told(address)
    end
  end)
end

--- Breaks a line that a proposal of several lines was put into: Neovim's own
--- completion writes a NUL where the line ends.
local function break_lines()
  local line, at = vim.api.nvim_get_current_line(), vim.api.nvim_win_get_cursor(0)
  if not line:find('\0', 1, true) then
    return
  end
  vim.api.nvim_buf_set_lines(0, at[1] - 1, at[1], true, vim.split(line, '\0', { plain = true }))
  local before = vim.split(line:sub(1, at[2]), '\0', { plain = true })
  vim.api.nvim_win_set_cursor(0, { at[1] + #before - 1, #before[#before] })
end

local function attach(options)
  return function(client, buffer)
    vim.api.nvim_create_autocmd('CompleteDone', {
      buffer = buffer,
      group = vim.api.nvim_create_augroup('ohmstead_lines_' .. buffer, {}),
      callback = vim.schedule_wrap(break_lines),
    })
    vim.bo[buffer].omnifunc = 'v:lua.vim.lsp.omnifunc'
    if options.hints and vim.lsp.inlay_hint then
      vim.lsp.inlay_hint.enable(true, { bufnr = buffer })
    end
    if options.keymaps then
      M.keymaps(buffer)
    end
    if options.on_attach then
      options.on_attach(client, buffer)
    end
  end
end

local function detect()
  if vim.fn.has('nvim-0.8') == 1 then
    vim.filetype.add({ pattern = { ['.*%.ohm%.hcl'] = { 'ohmstead', { priority = 10 } } } })
  else
    vim.cmd([[
      augroup ohmstead_detect
        autocmd! BufRead,BufNewFile *.ohm.hcl if &filetype !=# 'ohmstead' | set filetype=ohmstead | endif
      augroup END
    ]])
  end
end

--- The folder that bounds what a plan may read: of the repository, else of the file.
local function root(buffer)
  local folder = vim.fn.fnamemodify(vim.api.nvim_buf_get_name(buffer), ':p:h')
  local git = vim.fn.finddir('.git', vim.fn.escape(folder, ' ,') .. ';')
  if git == '' then
    git = vim.fn.findfile('.git', vim.fn.escape(folder, ' ,') .. ';')
  end
  return git == '' and folder or vim.fn.fnamemodify(git, ':p:s?/$??:h')
end

-- 0.7 does not look for a running client itself.
local clients = {}

local function start_old(config, buffer)
  local id = clients[config.root_dir]
  if not id or not vim.lsp.get_client_by_id(id) then
    id = vim.lsp.start_client(config)
    clients[config.root_dir] = id
  end
  if id then
    vim.lsp.buf_attach_client(buffer, id)
  end
end

--- Starts the server for plans.
--- @param given table|nil what to change of M.defaults
function M.setup(given)
  local options = vim.tbl_deep_extend('force', M.defaults, given or {})
  detect()
  local config = {
    name = 'ohmstead',
    cmd = options.cmd,
    settings = options.settings,
    init_options = options.settings, -- 0.7 sends settings no other way
    capabilities = options.capabilities,
    on_attach = attach(options),
    flags = { allow_incremental_sync = vim.fn.has('nvim-0.11') == 1 }, -- its changes go wrong where a line holds a NUL, see break_lines
  }
  if vim.lsp.config then -- 0.11
    config.filetypes = { 'ohmstead' }
    config.root_dir = function(buffer, go)
      go(root(buffer))
    end
    vim.lsp.config('ohmstead', config)
    vim.lsp.enable('ohmstead')
    return
  end
  vim.api.nvim_create_autocmd('FileType', {
    pattern = 'ohmstead',
    group = vim.api.nvim_create_augroup('ohmstead_start', {}),
    callback = function(event)
      local here = vim.tbl_extend('force', config, { root_dir = root(event.buf) })
      if vim.lsp.start then -- 0.8
        vim.lsp.start(here)
      else
        start_old(here, event.buf)
      end
    end,
  })
end

return M
