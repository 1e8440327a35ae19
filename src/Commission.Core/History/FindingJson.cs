using System.Collections.Immutable;
using System.Text.Json;
using Commission.Core.Characteristics;

namespace Commission.Core.History;

/// <summary>Findings and what the fit was told, as they stand in the journal.</summary>
internal static class FindingJson
{
    internal static void Write(Utf8JsonWriter json, Finding finding)
    {
        json.Put("kind", finding.Kind);
        json.Put("method", finding.Method);
        json.Put("rows", (long?)finding.Rows);
        json.Put("used", (long?)finding.Used);
        json.PutEach("parameters", finding.Parameters, parameter => Write(json, parameter));
        json.PutEach("covariance", finding.Covariance, row =>
        {
            json.WriteStartArray();
            foreach (var cell in row)
                json.PutNumber(cell);
            json.WriteEndArray();
        });
        json.Put("residualStandardDeviation", finding.ResidualStandardDeviation);
        json.PutEach("residuals", finding.Residuals, json.PutNumber);
        json.PutEach("budget", finding.Budget, line =>
        {
            json.WriteStartObject();
            json.Put("source", line.Source);
            json.Put("share", line.Share);
            json.WriteBoolean("repeatingHelps", line.RepeatingHelps);
            json.WriteEndObject();
        });
        json.PutEach("suspects", finding.Suspects, suspect =>
        {
            json.WriteStartObject();
            json.Put("row", (long?)suspect.Row);
            json.Put("reason", suspect.Reason);
            json.Put("suggestion", suspect.Suggestion);
            if (suspect.Called is { } called)
                json.Put("called", called);
            json.WriteEndObject();
        });
        json.PutEach("remarks", finding.Remarks, json.WriteStringValue);
        json.Put("limit", finding.Limit);
        json.Put("limitOverMm", finding.LimitOverMm);
        json.Put("verdict", JournalWords.Verdict[finding.Verdict]);
        json.PutObject("advice", () => Write(json, finding.Advice));
    }

    internal static Finding Read(JsonFields fields) => new()
    {
        Kind = fields.Text("kind"),
        Method = fields.Text("method"),
        Rows = fields.Int("rows"),
        Used = fields.Int("used"),
        Parameters = fields.Each("parameters", ReadParameter),
        Covariance = fields.Table("covariance"),
        ResidualStandardDeviation = fields.MaybeNumber("residualStandardDeviation"),
        Residuals = fields.Numbers("residuals"),
        Budget = fields.Each("budget", line => new BudgetLine(line.Text("source"), line.Number("share"), line.Flag("repeatingHelps"))),
        Suspects = fields.Each("suspects", suspect => new Suspect(suspect.Int("row"), suspect.Text("reason"), suspect.Text("suggestion")) { Called = suspect.MaybeText("called") }),
        Remarks = fields.Texts("remarks"),
        Limit = fields.MaybeNumber("limit"),
        LimitOverMm = fields.MaybeNumber("limitOverMm"),
        Verdict = fields.Word("verdict", JournalWords.Verdict),
        Advice = fields.Object("advice", ReadAdvice),
    };

    internal static void Write(Utf8JsonWriter json, FitOptions options)
    {
        json.Put("axis", options.Axis is { } axis ? JournalWords.Axis[axis] : null);
        json.Put("stepsPerMm", options.StepsPerMm);
        json.Put("setting", JournalWords.Ratio[options.Setting]);
        json.Put("settingDecimals", (long?)options.SettingDecimals);
        json.Put("drive", JournalWords.Drive[options.Drive]);
        json.Put("travelPerTurnMm", options.TravelPerTurnMm);
        json.Put("screwGrade", (long?)options.ScrewGrade);
        json.Put("priorStandardUncertainty", options.PriorStandardUncertainty);
        if (options.Instrument is { } instrument)
            json.PutObject("instrument", () => MachineJson.Write(json, instrument));
        if (options.Hand is { } hand)
            json.PutObject("hand", () => MachineJson.Write(json, hand));
        json.Put("travelMm", options.TravelMm);
        if (options.Tolerance is { } tolerance)
        {
            json.PutObject("tolerance", () =>
            {
                json.Put("value", tolerance.Value);
                json.Put("unit", tolerance.Unit);
                json.Put("typed", tolerance.Typed);
                if (tolerance.From is { } from)
                    json.Put("from", JournalWords.LimitFrom[from]);
            });
        }

        json.Put("coverage", options.Coverage);
        if (options.Sequential) json.WriteBoolean("sequential", true);
        json.Put("machineTemperatureC", options.TemperaturesC?.Machine);
        json.Put("instrumentTemperatureC", options.TemperaturesC?.Instrument);
        json.PutEach("others", options.Others, other =>
        {
            json.WriteStartObject();
            json.Put("value", other.Value);
            json.Put("standardUncertainty", other.StandardUncertainty);
            json.Put("instrument", other.Instrument);
            json.WriteEndObject();
        });
        json.PutObject("numbers", () => WriteSorted(options.Numbers, pair => json.Put(pair.Key, pair.Value)));
        json.PutObject("words", () => WriteSorted(options.Words, pair => json.Put(pair.Key, pair.Value)));
    }

    internal static FitOptions ReadOptions(JsonFields fields) => new()
    {
        Axis = fields.MaybeWord("axis", JournalWords.Axis),
        StepsPerMm = fields.MaybeNumber("stepsPerMm"),
        Setting = fields.Word("setting", JournalWords.Ratio),
        SettingDecimals = fields.MaybeInt("settingDecimals"),
        Drive = fields.Word("drive", JournalWords.Drive),
        TravelPerTurnMm = fields.MaybeNumber("travelPerTurnMm"),
        ScrewGrade = fields.MaybeInt("screwGrade"),
        PriorStandardUncertainty = fields.MaybeNumber("priorStandardUncertainty"),
        Instrument = fields.MaybeObject("instrument", MachineJson.ReadInstrument),
        Hand = fields.MaybeObject("hand", MachineJson.ReadStudy),
        TravelMm = fields.MaybeNumber("travelMm"),
        Tolerance = fields.MaybeObject("tolerance", limit => new Tolerance(limit.Number("value"), limit.Text("unit"), limit.Text("typed")) { From = limit.MaybeWord("from", JournalWords.LimitFrom) }),
        Coverage = fields.Number("coverage"),
        Sequential = fields.MaybeFlag("sequential") == true,
        TemperaturesC = (fields.MaybeNumber("machineTemperatureC"), fields.MaybeNumber("instrumentTemperatureC")) is ({ } machine, { } instrument)
            ? (machine, instrument)
            : null,
        Others = fields.Each("others", other => new IndependentResult(other.Number("value"), other.Number("standardUncertainty"), other.Text("instrument"))),
        Numbers = fields.NumbersByName("numbers").ToImmutableDictionary(),
        Words = fields.TextsByName("words").ToImmutableDictionary(),
    };

    private static void Write(Utf8JsonWriter json, FittedParameter parameter)
    {
        json.WriteStartObject();
        json.Put("name", parameter.Name);
        json.Put("unit", parameter.Unit);
        json.Put("value", parameter.Value);
        json.Put("standardUncertainty", parameter.StandardUncertainty);
        json.Put("freshUncertainty", parameter.FreshUncertainty);
        json.Put("sharedUncertainty", parameter.SharedUncertainty);
        json.Put("degreesOfFreedom", parameter.DegreesOfFreedom);
        json.Put("coverageFactor", parameter.CoverageFactor);
        json.Put("expandedUncertainty", parameter.ExpandedUncertainty);
        json.Put("whyNoUncertainty", parameter.WhyNoUncertainty);
        json.Put("low", parameter.Interval?.Low);
        json.Put("high", parameter.Interval?.High);
        json.WriteEndObject();
    }

    private static FittedParameter ReadParameter(JsonFields fields) => new()
    {
        Name = fields.Text("name"),
        Unit = fields.Text("unit"),
        Value = fields.MaybeNumber("value"),
        StandardUncertainty = fields.MaybeNumber("standardUncertainty"),
        FreshUncertainty = fields.MaybeNumber("freshUncertainty"),
        SharedUncertainty = fields.MaybeNumber("sharedUncertainty"),
        DegreesOfFreedom = fields.MaybeNumber("degreesOfFreedom"),
        CoverageFactor = fields.MaybeNumber("coverageFactor"),
        ExpandedUncertainty = fields.MaybeNumber("expandedUncertainty"),
        WhyNoUncertainty = fields.MaybeText("whyNoUncertainty"),
        Interval = (fields.MaybeNumber("low"), fields.MaybeNumber("high")) is ({ } low, { } high) ? new Interval(low, high) : null,
    };

    private static void Write(Utf8JsonWriter json, Advice advice)
    {
        json.Put("action", JournalWords.Advice[advice.Action]);
        json.Put("because", advice.Because);
        json.Put("next", advice.Next);
        if (advice.Setting is not { } setting)
            return;
        json.PutObject("setting", () =>
        {
            json.Put("name", setting.Name);
            json.Put("axis", setting.Axis);
            json.Put("expressedAs", setting.ExpressedAs);
            json.Put("current", setting.Current);
            json.Put("proposed", setting.Proposed);
            json.Put("asStored", setting.AsStored);
            json.Put("roundingError", setting.RoundingError);
            json.Put("standardUncertainty", setting.StandardUncertainty);
        });
    }

    private static Advice ReadAdvice(JsonFields fields) => new()
    {
        Action = fields.Word("action", JournalWords.Advice),
        Because = fields.Text("because"),
        Next = fields.MaybeText("next"),
        Setting = fields.MaybeObject("setting", setting => new ProposedSetting
        {
            Name = setting.Text("name"),
            Axis = setting.MaybeText("axis"),
            ExpressedAs = setting.Text("expressedAs"),
            Current = setting.Number("current"),
            Proposed = setting.Number("proposed"),
            AsStored = setting.Number("asStored"),
            RoundingError = setting.Number("roundingError"),
            StandardUncertainty = setting.MaybeNumber("standardUncertainty"),
        }),
    };

    // Hash tables have no order of their own; the same options must give the same bytes.
    private static void WriteSorted<T>(ImmutableDictionary<string, T> values, Action<KeyValuePair<string, T>> write)
    {
        foreach (var pair in values.OrderBy(pair => pair.Key, StringComparer.Ordinal))
            write(pair);
    }
}
