using System.Globalization;

namespace Commission.Practice.Controller;

/// <summary>Takes a line apart by the template a dialect gives for it.</summary>
internal static class LineTemplate
{
    /// <summary>The filled-in parts by name; null where the line does not fit.</summary>
    public static Dictionary<string, string>? Match(string template, string line)
    {
        var parts = new Dictionary<string, string>();
        var at = 0;
        while (template.Length > 0)
        {
            if (template[0] != '{')
            {
                if (at >= line.Length || line[at++] != template[0])
                    return null;
                template = template[1..];
                continue;
            }
            var close = template.IndexOf('}', StringComparison.Ordinal);
            var name = template[1..close];
            template = template[(close + 1)..];
            var end = name == "axis" ? Math.Min(at + 1, line.Length) : template.Length == 0 ? line.Length : End(line, at, template[0]);
            parts[name] = line[at..end];
            at = end;
        }
        return at == line.Length ? parts : null;
    }

    private static int End(string line, int from, char until) => line.IndexOf(until, from) is var end and >= 0 ? end : line.Length;
}
