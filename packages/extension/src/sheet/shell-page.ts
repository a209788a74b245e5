/** @param files where they are @param source of all that the page may load, as a policy names it */
export function shellPage(
  files: { readonly style: string; readonly script: string },
  source: string,
  about: string,
): string {
  const policy = `default-src 'none'; style-src ${source}; script-src ${source}`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Fettle, ${about}</title>
<link rel="stylesheet" href="${files.style}">
</head>
<body>
<div id="told" class="unseen" role="status" aria-live="polite"></div>
<p id="note" hidden></p>
<aside id="busy" aria-label="Search" hidden><span></span> <button type="button">Stop</button></aside>
<main id="sheet"><p class="quiet">Waiting for the figures …</p></main>
<script src="${files.script}"></script>
</body>
</html>
`;
}
