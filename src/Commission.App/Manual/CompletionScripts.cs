using System.Collections.Immutable;
using System.Text;

namespace Commission.App.Manual;

/// <summary>Completions as scripts. They hold all words, so that completing starts no program.</summary>
internal sealed class CompletionScripts(ImmutableArray<CommandTree.Node> nodes, ImmutableArray<CommandTree.Choice> everywhere)
{
    /// <summary>The shells there is a script for.</summary>
    public static ImmutableArray<string> Shells { get; } = ["bash", "zsh", "fish", "powershell"];

    /// <summary>The script for a shell; lines end with a line feed.</summary>
    public string For(string shell) => shell switch
    {
        "bash" => Bash(),
        "zsh" => Zsh(),
        "fish" => Fish(),
        _ => PowerShell(),
    };

    private List<CommandTree.Choice> Valued => [.. nodes.SelectMany(node => node.Options).Concat(everywhere).Where(option => option.Value is not null).OrderBy(option => option.Values.IsEmpty).DistinctBy(option => option.Name)];

    private IEnumerable<CommandTree.Choice> Closed => Valued.Where(option => !option.Values.IsEmpty);

    // Their value is anything, a file as well as a number: the names of other options are not.
    private string Open => string.Join('|', Valued.Where(option => option.Values.IsEmpty).Select(option => option.Name));

    private string Trails => string.Join('|', nodes.Where(node => node.Trail.Length > 0).Select(node => $"\" {node.Trail}\""));

    private string Bash()
    {
        var text = new StringBuilder("# Completions of commission for bash: source this file, or put it where bash-completion looks.\n_commission() {\n");
        text.Append("  local word=${COMP_WORDS[COMP_CWORD]} trail= i\n  COMPREPLY=()\n  for ((i = 1; i < COMP_CWORD; i++)); do\n");
        text.Append("    case \"$trail ${COMP_WORDS[i]}\" in ").Append(Trails).Append(") trail=\"$trail ${COMP_WORDS[i]}\" ;; esac\n  done\n");
        text.Append("  case \"${COMP_WORDS[COMP_CWORD - 1]}\" in\n");
        foreach (var option in Closed)
            text.Append("    ").Append(option.Name).Append(") COMPREPLY=($(compgen -W \"").AppendJoin(' ', option.Values).Append("\" -- \"$word\")); return ;;\n");
        text.Append("    ").Append(Open).Append(") COMPREPLY=($(compgen -f -- \"$word\")); return ;;\n  esac\n  case \"$trail\" in\n");
        foreach (var node in nodes)
            text.Append("    \"").Append(Led(node)).Append("\") COMPREPLY=($(compgen -W \"").AppendJoin(' ', node.Words(everywhere)).Append("\" -- \"$word\")) ;;\n");
        return text.Append("  esac\n  [ ${#COMPREPLY[@]} -gt 0 ] || COMPREPLY=($(compgen -f -- \"$word\"))\n}\ncomplete -F _commission commission\n").ToString();
    }

    private string Zsh()
    {
        var text = new StringBuilder("#compdef commission\n# Completions of commission for zsh: put this file as _commission into a folder of fpath, or source it after compinit.\n_commission() {\n");
        text.Append("  local trail= word\n  for word in ${words[2,CURRENT-1]}; do\n");
        text.Append("    case \"$trail $word\" in ").Append(Trails).Append(") trail=\"$trail $word\" ;; esac\n  done\n  case \"${words[CURRENT-1]}\" in\n");
        foreach (var option in Closed)
            text.Append("    ").Append(option.Name).Append(") compadd -- ").AppendJoin(' ', option.Values).Append("; return ;;\n");
        text.Append("    ").Append(Open).Append(") _files; return ;;\n  esac\n  case \"$trail\" in\n");
        foreach (var node in nodes)
            text.Append("    \"").Append(Led(node)).Append("\") compadd -- ").AppendJoin(' ', node.Words(everywhere)).Append(" ;;\n");
        return text.Append("  esac\n  _files\n}\nif [ \"$funcstack[1]\" = _commission ]; then _commission \"$@\"; else compdef _commission commission; fi\n").ToString();
    }

    private string Fish()
    {
        var text = new StringBuilder("# Completions of commission for fish: put this file into ~/.config/fish/completions as commission.fish.\nfunction __commission_trail\n  set -l trail\n");
        text.Append("  for word in (commandline -opc)[2..]\n    switch \"$trail $word\"\n      case ").AppendJoin(' ', nodes.Where(node => node.Trail.Length > 0).Select(node => $"'{Led(node)}'"));
        text.Append("\n        set trail \"$trail $word\"\n    end\n  end\n  echo \"$trail\"\nend\n");
        foreach (var node in nodes)
        {
            var here = $"complete -c commission -n 'test \"$(__commission_trail)\" = \"{Led(node)}\"'";
            foreach (var (word, meaning) in node.Verbs)
                text.Append(here).Append(" -f -a ").Append(word).Append(" -d ").Append(Single(meaning)).Append('\n');
            foreach (var word in node.Values)
                text.Append(here).Append(" -f -a ").Append(word).Append('\n');
            foreach (var option in node.Options)
                text.Append(here).Append(Fish(option)).Append('\n');
        }

        foreach (var option in everywhere)
            text.Append("complete -c commission").Append(Fish(option)).Append('\n');
        return text.ToString();
    }

    private static string Fish(CommandTree.Choice option)
    {
        if (!option.Name.StartsWith("--", StringComparison.Ordinal))
            return $" -s {option.Name[1..]} -d {Single(option.Meaning)}";
        var values = option.Values.IsEmpty ? "" : $" -x -a {Single(string.Join(' ', option.Values))}";
        return $" -l {option.Name[2..]}{(option.Value is not null && option.Values.IsEmpty ? " -r" : "")}{values} -d {Single(option.Meaning)}";
    }

    private string PowerShell()
    {
        var text = new StringBuilder("# Completions of commission for PowerShell: run this file from the profile.\nRegister-ArgumentCompleter -Native -CommandName commission -ScriptBlock {\n");
        text.Append("  param($word, $ast, $cursor)\n  $known = @{\n");
        foreach (var node in nodes)
            text.Append("    ").Append(Single(Led(node))).Append(" = @(").AppendJoin(", ", node.Words(everywhere).Select(Single)).Append(")\n");
        text.Append("  }\n  $values = @{\n");
        foreach (var option in Closed)
            text.Append("    ").Append(Single(option.Name)).Append(" = @(").AppendJoin(", ", option.Values.Select(Single)).Append(")\n");
        text.Append("  }\n  $open = @(").AppendJoin(", ", Valued.Where(option => option.Values.IsEmpty).Select(option => Single(option.Name))).Append(")\n  $before = @($ast.CommandElements | Select-Object -Skip 1 | Where-Object { $_.Extent.EndOffset -lt $cursor } | ForEach-Object { $_.ToString() })\n");
        text.Append("  $trail = ''\n  foreach ($one in $before) { if ($known.ContainsKey(\"$trail $one\")) { $trail = \"$trail $one\" } }\n");
        text.Append("  if ($before.Count -gt 0 -and $open -contains $before[-1]) { return }\n  $words = if ($before.Count -gt 0 -and $values.ContainsKey($before[-1])) { $values[$before[-1]] } else { $known[$trail] }\n");
        text.Append("  $words | Where-Object { $_ -like \"$word*\" } | ForEach-Object { [System.Management.Automation.CompletionResult]::new($_) }\n}\n");
        return text.ToString();
    }

    private static string Led(CommandTree.Node node) => node.Trail.Length == 0 ? "" : " " + node.Trail;

    private static string Single(string text) => "'" + text.Replace("'", "\u2019", StringComparison.Ordinal) + "'";
}
