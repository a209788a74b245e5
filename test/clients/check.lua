-- What a person at this editor would see of one file: its diagnostics, and the hover on a name. Written as JSON into a file.
local server, file, name, out = vim.env.FETTLE_SERVER, vim.env.FETTLE_FILE, vim.env.FETTLE_NAME, vim.env.FETTLE_OUT
vim.cmd('edit ' .. vim.fn.fnameescape(file))
local buffer = vim.api.nvim_get_current_buf()
local client = vim.lsp.start_client({
  name = 'fettle',
  cmd = { vim.env.FETTLE_NODE, server, '--stdio' },
  root_dir = vim.fn.getcwd(),
})
vim.lsp.buf_attach_client(buffer, client)
vim.wait(20000, function() return #vim.diagnostic.get(buffer) > 0 end, 20)

local seen = { diagnostics = {}, hover = '' }
for _, one in ipairs(vim.diagnostic.get(buffer)) do
  table.insert(seen.diagnostics, {
    code = one.code or (one.user_data and one.user_data.lsp and one.user_data.lsp.code),
    line = one.lnum,
    severity = one.severity,
    message = one.message,
  })
end

vim.fn.search('\\<' .. name .. '\\>')
local answers = vim.lsp.buf_request_sync(buffer, 'textDocument/hover', vim.lsp.util.make_position_params(), 20000)
for _, answer in pairs(answers or {}) do
  local lines = vim.lsp.util.convert_input_to_markdown_lines(answer.result and answer.result.contents or {})
  seen.hover = table.concat(lines, '\n')
end
vim.fn.writefile({ vim.fn.json_encode(seen) }, out)
vim.lsp.stop_client(client)
vim.wait(2000, function() return vim.lsp.get_client_by_id(client) == nil end, 20)
vim.cmd('qall!')
