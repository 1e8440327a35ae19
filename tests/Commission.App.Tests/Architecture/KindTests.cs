using System.Text.RegularExpressions;
using Commission.Core.Characteristics;
using Commission.Tests;

namespace Commission.App.Tests.Architecture;

/// <summary>What differs from kind to kind stands in its declaration, and nowhere else.</summary>
public sealed partial class KindTests
{
    private static readonly string Ids = string.Join('|', CharacteristicKinds.All.Select(kind => kind.Id));

    [Fact]
    public void No_switch_over_kinds_stands_outside_their_folder()
    {
        var arm = new Regex($"(?:case\\s+|\\bor\\s+)?\"({Ids})\"\\s*(?:=>|:|\\bor\\b|\\bwhen\\b)");
        var wrong =
            from file in Outside()
            from block in Switches(File.ReadAllText(file))
            let named = arm.Matches(block).Select(match => match.Groups[1].Value).Distinct().ToArray()
            where named.Length > 1
            select $"{file}: a switch over {string.Join(", ", named)}";
        Assert.Empty(wrong);
    }

    [Fact]
    public void No_kind_is_compared_with_its_id_outside_their_folder()
    {
        var compared = new Regex($"\\b[Kk]ind(?:\\.Id)?\\s*(?:==|!=|\\bis\\b(?:\\s+not)?)\\s*\"({Ids})\"");
        Assert.DoesNotContain(Outside(), file => compared.IsMatch(File.ReadAllText(file)));
    }

    [Fact]
    public void A_switch_over_kinds_would_be_seen() =>
        Assert.Equal(2, Switches("void A() { var x = k switch { \"a\" => 1, \"b\" => F(() => { }), _ => 0 }; switch (k) { case \"tram\": break; } }").Count());

    private static IEnumerable<string> Outside() => Repository.Sources("src")
        .Where(file => !file.Contains(Path.Combine("Commission.Core", "Characteristics"), StringComparison.Ordinal) && !file.Contains("Commission.Practice", StringComparison.Ordinal));

    /// <summary>The braces after every <c>switch</c>.</summary>
    private static IEnumerable<string> Switches(string text)
    {
        foreach (Match match in Switch().Matches(text))
        {
            var open = text.IndexOf('{', match.Index);
            var (depth, at) = (0, open);
            for (; at >= 0 && at < text.Length; at++)
            {
                depth += text[at] == '{' ? 1 : text[at] == '}' ? -1 : 0;
                if (depth == 0)
                    break;
            }

            if (open >= 0)
                yield return text[open..Math.Min(at + 1, text.Length)];
        }
    }

    [GeneratedRegex(@"\bswitch\b")]
    private static partial Regex Switch();
}
