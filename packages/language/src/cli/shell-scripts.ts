/** Scripts by which a shell completes what is typed. All three call `fettle complete`, so that they offer the same. */
import { Refusal } from './refuse.ts';

export const SHELLS = ['bash', 'zsh', 'fish'] as const;
type Shell = (typeof SHELLS)[number];

/** A line of the answer by itself: files are possible here. */
export const FILES = ':files';

export function completionScript(shell: string): string {
  const known = SHELLS.find((one) => one === shell);
  if (known === undefined) throw new Refusal(`there is no script for ${shell}; known: ${SHELLS.join(', ')}`);
  return SCRIPTS[known];
}

const SCRIPTS: Readonly<Record<Shell, string>> = {
  bash: `# fettle completion for bash
_fettle() {
  local line
  COMPREPLY=()
  while IFS= read -r line; do
    if [ "$line" = '${FILES}' ]; then
      compopt -o filenames 2>/dev/null
      while IFS= read -r line; do COMPREPLY+=("$line"); done < <(compgen -f -- "\${COMP_WORDS[COMP_CWORD]}")
    else
      COMPREPLY+=("\${line%%$'\\t'*}")
    fi
  done < <("\${COMP_WORDS[0]}" complete -- "\${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null)
}
complete -F _fettle fettle
`,
  zsh: `#compdef fettle
# fettle completion for zsh
_fettle() {
  local line name files
  local -a found
  while IFS= read -r line; do
    if [[ $line == '${FILES}' ]]; then
      files=1
    else
      name=\${line%%$'\\t'*}
      found+=("\${name//:/\\\\:}:\${line#*$'\\t'}")
    fi
  done < <("\${words[1]}" complete -- "\${(@)words[2,CURRENT]}" 2>/dev/null)
  (( \${#found} )) && _describe fettle found
  [[ -n $files ]] && _files
}
if [[ $funcstack[1] == _fettle ]]; then
  _fettle "$@"
else
  compdef _fettle fettle
fi
`,
  fish: `# fettle completion for fish
function __fettle_complete
    set -l words (commandline -opc)
    set -l current (commandline -ct)
    for line in (fettle complete -- $words[2..-1] "$current" 2>/dev/null)
        if test "$line" = '${FILES}'
            __fish_complete_path "$current"
        else
            echo $line
        end
    end
end
complete -c fettle -f -a '(__fettle_complete)'
`,
};
