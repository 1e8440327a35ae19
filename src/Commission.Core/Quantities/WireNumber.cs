using System.Globalization;

namespace Commission.Core.Quantities;

/// <summary>Numbers as controllers write them: digits with a sign and a point.</summary>
public static class WireNumber
{
    /// <summary>The number; null where the text is none.</summary>
    public static double? Read(string text) =>
        double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value) ? value : null;

    /// <summary>How many decimals a text has.</summary>
    public static int Decimals(string text) => text.IndexOf('.', StringComparison.Ordinal) is var point and >= 0 ? text.Length - point - 1 : 0;
}
