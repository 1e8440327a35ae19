using System.Collections.Immutable;

namespace Commission.Workshop.Screens;

/// <summary>Words and numbers in figures of five rows, read from a metre.</summary>
public static class BlockDigits
{
    /// <summary>Rows of a figure.</summary>
    public const int Rows = 5;

    private static readonly Dictionary<char, string[]> Shapes = new()
    {
        ['0'] = ["######", "##  ##", "##  ##", "##  ##", "######"],
        ['1'] = ["  ##", "####", "  ##", "  ##", "######"],
        ['2'] = ["######", "    ##", "######", "##", "######"],
        ['3'] = ["######", "    ##", "  ####", "    ##", "######"],
        ['4'] = ["##  ##", "##  ##", "######", "    ##", "    ##"],
        ['5'] = ["######", "##", "######", "    ##", "######"],
        ['6'] = ["######", "##", "######", "##  ##", "######"],
        ['7'] = ["######", "    ##", "   ##", "  ##", "  ##"],
        ['8'] = ["######", "##  ##", "######", "##  ##", "######"],
        ['9'] = ["######", "##  ##", "######", "    ##", "######"],
        ['.'] = ["", "", "", "", "##"],
        ['-'] = ["", "", "####", "", ""],
        ['+'] = ["", "  ##", "######", "  ##", ""],
        ['/'] = ["    ##", "    ##", "  ##", "##", "##"],
        ['<'] = ["    ##", "  ##", "##", "  ##", "    ##"],
        ['>'] = ["##", "  ##", "    ##", "  ##", "##"],
        ['A'] = ["######", "##  ##", "######", "##  ##", "##  ##"],
        ['B'] = ["####", "##  ##", "####", "##  ##", "####"],
        ['C'] = ["######", "##", "##", "##", "######"],
        ['D'] = ["####", "##  ##", "##  ##", "##  ##", "####"],
        ['E'] = ["######", "##", "####", "##", "######"],
        ['F'] = ["######", "##", "####", "##", "##"],
        ['G'] = ["######", "##", "## ###", "##  ##", "######"],
        ['H'] = ["##  ##", "##  ##", "######", "##  ##", "##  ##"],
        ['I'] = ["##", "##", "##", "##", "##"],
        ['J'] = ["    ##", "    ##", "    ##", "##  ##", "######"],
        ['K'] = ["##  ##", "## ##", "####", "## ##", "##  ##"],
        ['L'] = ["##", "##", "##", "##", "######"],
        ['M'] = ["##   ##", "### ###", "## # ##", "##   ##", "##   ##"],
        ['N'] = ["##  ##", "### ##", "######", "## ###", "##  ##"],
        ['O'] = ["######", "##  ##", "##  ##", "##  ##", "######"],
        ['P'] = ["######", "##  ##", "######", "##", "##"],
        ['Q'] = ["######", "##  ##", "##  ##", "######", "    ##"],
        ['R'] = ["####", "##  ##", "####", "##  ##", "##  ##"],
        ['S'] = ["######", "##", "######", "    ##", "######"],
        ['T'] = ["########", "   ##", "   ##", "   ##", "   ##"],
        ['U'] = ["##  ##", "##  ##", "##  ##", "##  ##", "######"],
        ['V'] = ["##  ##", "##  ##", "##  ##", " ####", "  ##"],
        ['W'] = ["##   ##", "##   ##", "## # ##", "### ###", "##   ##"],
        ['X'] = ["##  ##", "##  ##", "  ##", "##  ##", "##  ##"],
        ['Y'] = ["##  ##", "##  ##", "  ##", "  ##", "  ##"],
        ['Z'] = ["######", "   ##", "  ##", " ##", "######"],
        [' '] = ["  ", "", "", "", ""],
    };

    /// <summary>The five rows of a text where they fit a width; else the text itself, broken where it must be, in as many rows.</summary>
    /// <param name="text">The text.</param>
    /// <param name="width">Columns there are.</param>
    public static ImmutableArray<string> Within(string text, int width)
    {
        var large = Of(text);
        if (large.All(row => row.Length <= width))
            return large;
        string[] plain = ["", .. Wrap.To(text, width).Take(Rows - 1)];
        return [.. plain, .. Enumerable.Repeat("", Rows - plain.Length)];
    }

    /// <summary>The five rows of a text, two blanks between figures; characters without a figure are left out.</summary>
    public static ImmutableArray<string> Of(string text)
    {
        var shapes = text.ToUpperInvariant().Where(Shapes.ContainsKey).Select(c => Shapes[c]).ToList();
        return
        [
            .. Enumerable.Range(0, Rows).Select(row =>
                string.Join("  ", shapes.Select(shape => shape[row].PadRight(shape.Max(line => line.Length)))).TrimEnd()),
        ];
    }
}
