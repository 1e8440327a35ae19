using System.Collections.Immutable;
using Commission.Core.Machines;

namespace Commission.Core.Procedures;

/// <summary>Reads a check with its answer and its limits.</summary>
internal static class CheckReader
{
    private static readonly Dictionary<string, string> Answers = new(StringComparer.Ordinal)
    {
        ["yes-no"] = "yes-no", ["number"] = "number", ["one-of"] = "one-of", ["text"] = "text", ["rectangles"] = "rectangles",
    };

    private static readonly Dictionary<string, WatchCount?> Counts = new(StringComparer.Ordinal) { ["hours"] = WatchCount.Hours, ["trips"] = WatchCount.Trips };

    public static Step? Read(YamlFields fields, StepReader.Header header)
    {
        var check = new Step.Check
        {
            Name = header.Name,
            Id = fields.Text("id", required: false) ?? header.Name,
            Ask = fields.Text("ask") ?? "",
            Answer = Answer(fields),
            Limits = Limits(fields),
            Source = fields.Text("source", required: false),
            Who = fields.Text("who", required: false),
            IfOut = fields.Text("ifOut") ?? "",
            MaySkip = fields.Word("maySkip", MachineWords.Answers, Known.Yes) != Known.No,
            Counted = fields.Word("counted", Counts, null),
        };
        if (!check.Limits.IsEmpty && check.Answer is not CheckAnswer.Number)
            fields.Report(fields.Node, "limits are for numbers, and this check is not answered with one", "Write 'answer: number' with a unit, or remove the limits");
        if (check.Counted is not null && check.Answer is not CheckAnswer.Number)
            fields.Report(fields.Node, "what the link counts is a number, and this check is not answered with one", "Write 'answer: number' with a unit, or remove 'counted'");
        return header.On(check);
    }

    private static CheckAnswer Answer(YamlFields fields)
    {
        var kind = fields.Word("answer", Answers, "yes-no", required: true);
        var unit = fields.Text("unit", required: false);
        var options = TermReader.Texts(fields, "options");
        var passes = fields.Texts("passes");
        if (kind == "number" && unit is null) fields.Report(fields.Node, "a number needs its unit", "Add a line 'unit: mm' (or V, ohm, A, s, 1 …)");
        if (kind == "one-of" && options.Count < 2) fields.Report(fields.Node, "a choice needs at least two words", "Add 'options:' with one line 'word: meaning' for each");
        foreach (var word in passes.Where(word => !options.ContainsKey(word)))
            fields.Report(fields.Optional("passes")!, $"'{PlainText.Of(word)}' is none of the options", "Use words that stand in 'options'" + Spelling.DidYouMean(word, options.Keys));
        return kind switch
        {
            "number" => new CheckAnswer.Number(unit ?? "1"),
            "one-of" => new CheckAnswer.Word([.. options.Select(option => new ChoiceOption(option.Key, option.Value))], passes),
            "text" => new CheckAnswer.Line(),
            "rectangles" => new CheckAnswer.Rectangles(),
            _ => new CheckAnswer.YesNo(),
        };
    }

    private static ImmutableArray<Limit> Limits(YamlFields fields)
    {
        var limits = ImmutableArray.CreateBuilder<Limit>();
        if (TermReader.Read(fields, "atMost", -1e12, 1e12) is { } most) limits.Add(new Limit.AtMost(most));
        if (TermReader.Read(fields, "atLeast", -1e12, 1e12) is { } least) limits.Add(new Limit.AtLeast(least));
        if (fields.Has("between"))
        {
            var ends = fields.Numbers("between", -1e12, 1e12, required: true);
            if (ends.Length == 2 && ends[0] <= ends[1]) limits.Add(new Limit.Between(ends[0], ends[1]));
            else if (ends.Length > 0) fields.Report(fields.Optional("between")!, "'between' needs two numbers, the smaller first", "Write for example 'between: [34.2, 37.8]'");
        }

        if (fields.Fields("relative", "'relative'") is { } relative)
        {
            var to = relative.Text("to");
            var within = Percent(relative);
            relative.Done();
            if (to is not null && within is { } fraction) limits.Add(new Limit.Relative(to, fraction));
        }

        if (fields.Fields("near", "'near'") is { } near)
        {
            var (first, to) = (near.Text("firstOf", required: false), near.Text("to", required: false));
            var within = near.Number("within", 0, 1e12, required: true);
            if ((first is null) == (to is null)) near.Report(near.Node, "'near' needs either 'firstOf' or 'to'", "Name a group of readings in 'firstOf', or an earlier check in 'to'");
            else if (within is { } reach) limits.Add(new Limit.Near(first ?? to!, reach, first is not null));
            near.Done();
        }

        return limits.ToImmutable();
    }

    private static double? Percent(YamlFields relative)
    {
        var text = relative.Text("within");
        if (text is null) return null;
        if (text.EndsWith('%') && YamlFields.TryNumber(text[..^1].Trim(), out var percent) && percent is > 0 and <= 100) return percent / 100;
        relative.Report(relative.Optional("within")!, $"'within' is '{PlainText.Of(text)}'", "Write a share such as 10 %");
        return null;
    }
}
